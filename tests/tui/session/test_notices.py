"""Complaints are told for a while and never lost; what is not saved is told as long as it holds."""

from pathlib import Path

import pytest

from tests.tui.sets_in_files import put
from tests.tui.showing import running, shown, stand_app
from tui.session.notices import FRESH, Complaints, all_of

TROUBLE = {"changed": "set.toml was changed elsewhere: w takes it up", "saving": "NOT SAVED: the disk is full"}


def test_what_is_not_saved_comes_first() -> None:
    assert all_of(TROUBLE) == ("NOT SAVED: the disk is full", "set.toml was changed elsewhere: w takes it up")
    assert Complaints().told(TROUBLE, 0.0) == ("  ".join(all_of(TROUBLE)), False)


def test_after_a_while_the_help_has_it_and_what_is_not_saved_stays() -> None:
    complaints = Complaints()
    complaints.told(TROUBLE, 0.0)
    assert complaints.told(TROUBLE, FRESH) == ("NOT SAVED: the disk is full", True)


def test_a_new_complaint_is_told_anew_beside_an_old_one() -> None:
    complaints = Complaints()
    complaints.told({"changed": "one"}, 0.0)
    assert complaints.told({"changed": "one", "bar": "two"}, FRESH) == ("two", True)


def test_a_complaint_that_went_and_came_back_is_new() -> None:
    complaints = Complaints()
    complaints.told({"changed": "one"}, 0.0)
    complaints.told({}, 5.0)
    assert complaints.told({"changed": "one"}, FRESH) == ("one", False)


def test_without_complaints_there_is_nothing_to_tell() -> None:
    assert Complaints().told({}, 0.0) == ("", False)


async def test_settings_that_cannot_be_read_are_named(home: Path) -> None:
    put(home, "player.toml", 'theme = "lig')
    app = stand_app()
    async with running(app):
        assert app.session.notices["player"].startswith("player.toml: that is no TOML")


async def test_an_old_complaint_gives_the_keys_back_and_stands_in_the_help(monkeypatch: pytest.MonkeyPatch) -> None:
    app = stand_app()
    async with running(app) as pilot:
        app.session.toured = 99
        app.session.notices["bar"] = "not written back: the bar was changed elsewhere"
        app.session.show()
        await pilot.pause()
        assert shown(app)[-1].startswith(" ! not written back: the bar was changed elsewhere")
        assert shown(app)[-1].rstrip().endswith("? help")
        monkeypatch.setattr("tui.session.notices.FRESH", 0.0)
        app._look_outside()
        await pilot.pause()
        assert shown(app)[-1].startswith(" ! see ?  space next")
        await pilot.press("b")
        assert shown(app)[-1].startswith(" ! see ?")
        await pilot.press("question_mark")
        assert shown(app)[1].startswith(" ! not written back")
