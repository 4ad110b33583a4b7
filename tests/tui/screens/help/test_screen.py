"""The help of every screen."""

import pytest

from tests.tui.showing import running, shown, stand_app, text
from tui.input.commands import SCREENS
from tui.input.keymap import Keymap


@pytest.mark.parametrize("screen", ["stand", "set", "chart", "keys"])
async def test_the_help_shows_every_binding_of_the_screen_under_it(screen: str) -> None:
    app = stand_app()
    async with running(app, (110, 60)) as pilot:
        if screen != "stand":
            await pilot.press(Keymap().keys(f"stand.{screen}")[0])
        await pilot.press("question_mark")
        for command in SCREENS[screen]:
            assert command.words in text(app), command.id


async def test_help_is_left_with_the_key_that_opened_it() -> None:
    app = stand_app()
    async with running(app) as pilot:
        before = shown(app)
        await pilot.press("question_mark", "question_mark")
        assert shown(app) == before


async def test_on_a_narrow_screen_the_help_is_broken_into_rows_and_loses_no_word() -> None:
    app = stand_app()
    async with running(app, (60, 40)) as pilot:
        await pilot.press("question_mark")
        seen = " ".join(text(app).split())
        assert "give the cue: leave the vamp when its round is through" in seen
        assert not [row for row in shown(app) if row.rstrip().endswith("…")]
