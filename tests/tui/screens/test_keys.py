"""The twelve keys compared, and one taken for tonight or for good."""

from dataclasses import replace

import pytest

from tests.tui import charts
from tests.tui.showing import planner, running, shown, stand_app, text


async def test_twelve_keys_are_compared_and_the_best_is_marked() -> None:
    app = stand_app(replace(charts.harbour_set(), horns=("Bb",)))
    planner(app).answers["keys"] = charts.key_rows()
    async with running(app, (100, 30)) as pilot:
        await pilot.press("y")
        rows = [row for row in shown(app) if " mm" in row]
        assert len(rows) == 12
        assert rows[-1].split()[:4] == ["★", "D", "+11", "29"]
        assert "Bb horn" in text(app)
        assert "reason Eb" in text(app)


async def test_a_key_is_taken_for_tonight() -> None:
    app = stand_app()
    planner(app).answers["keys"] = charts.key_rows()
    async with running(app) as pilot:
        await pilot.press("y", "down", "enter")
        assert app.desk.now.here is not None
        assert app.desk.now.here.song.key == "E"


async def test_the_first_chords_stand_in_both_keys_one_below_the_other() -> None:
    app = stand_app()
    planner(app).answers["keys"] = charts.key_rows()
    async with running(app, (80, 24)) as pilot:
        await pilot.press("y", "down")
        rows = shown(app)
        at = next(number for number, row in enumerate(rows) if row.split()[:2] == ["E♭", "E♭maj7"])
        assert rows[at + 1].split()[:2] == ["E", "Emaj7"]
        assert rows[at].index("E♭maj7") == rows[at + 1].index("Emaj7")


@pytest.mark.parametrize("keys", [("y", "down", "g"), ("k", "plus", "1", "tab")])
async def test_a_key_for_good_is_asked_of_the_song_file(keys: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    app = stand_app()
    planner(app).answers["keys"] = charts.key_rows()
    asked: list[tuple[int, str]] = []

    async def keep(index: int, key: str) -> None:
        asked.append((index, key))

    monkeypatch.setattr(app.desk.bars, "keep_key", keep)
    async with running(app) as pilot:
        await pilot.press(*keys)
        await pilot.pause()
    assert asked == [(0, "E")]


async def test_keys_that_are_still_being_planned_are_awaited() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("y", "down", "enter")
        assert "planning the song in twelve keys" in text(app)
