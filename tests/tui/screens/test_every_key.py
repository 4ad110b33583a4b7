"""Every key of every screen does something that is seen, and nothing that breaks the picture."""

from datetime import datetime

import pytest

from tests.tui.screens.in_the_shed import log_quiet
from tests.tui.showing import Player, running, stand_app, text
from tui.app import StandApp
from tui.input.commands import COMMANDS, SCREENS
from tui.input.keymap import Keymap
from tui.persistence import practice_log
from tui.session import rehearsal as stand

OPENS = {"stand": (), "set": ("s",), "chart": ("b",), "keys": ("y",), "song": ("tab",), "sound": ("m",), "shed": ("a",),
         "help": ("question_mark",), "form": ("b", "f")}  # fmt: skip

BEFORE = {
    "stand.back": ("space",), "stand.section_back": ("down",), "stand.top": ("down",), "stand.song_back": ("space",),
    "stand.cue": ("j", "v"), "stand.return": ("down",), "stand.redo": ("t", "up", "enter", "u"),
    "stand.undo": ("t", "up", "enter"), "set.up": ("down",),
    "set.earlier": ("down",), "set.undo": ("right",), "set.redo": ("right", "u"), "chart.left": ("right",),
    "chart.up": ("down",), "chart.undo": ("p",), "chart.redo": ("p", "u"), "chart.open": ("right", "right"),
    "keys.up": ("down",),
    "form.up": ("down",), "form.redo": ("t", "u"),
    "song.up": ("down",), "song.undo": ("right",), "song.redo": ("right", "u"),
    "sound.up": ("down",), "sound.less": ("right",), "shed.up": ("down",), "help.up": ("down",),
    "shed.take_back": ("right",), "shed.slower": ("plus",), "shed.keep": ("v",),
}  # fmt: skip
"""What is pressed first, so that a key has something to do."""


def seen(app: StandApp) -> tuple[object, ...]:
    screen = app.screen
    return screen.name, text(app), app.session.now, app.session.message, getattr(screen, "cursor", None)


async def reached(app: StandApp, pilot: Player, screen: str, keys: tuple[str, ...]) -> None:
    while app.screen is not app.stand:
        app.pop_screen()
        await pilot.pause()
    app.stand._hold(None)
    app.session.now = stand.opened(app.session.now.set_list, app.session.unfold)
    app.session.message = ""
    app.show_top()
    await pilot.press(*OPENS[screen])
    await log_quiet(app)
    await pilot.press(*keys)


@pytest.mark.parametrize("screen", list(SCREENS))
async def test_every_key_does_something(screen: str) -> None:
    practice_log.add_caution(datetime(2026, 3, 2, 20, 30))
    app = stand_app()
    app.leave = lambda: app.session.say("quit")  # type: ignore[method-assign]
    async with running(app, (100, 30)) as pilot:
        app.session.toured = 99
        idle = []
        for command in SCREENS[screen]:
            await reached(app, pilot, screen, BEFORE.get(command.id, ()))
            before = seen(app)
            await pilot.press(Keymap().keys(command.id)[0])
            await pilot.pause(0.02)
            if seen(app) == before:
                idle.append(command.id)
            assert all(len(row) <= 100 for row in text(app).splitlines()), command.id
        assert not idle


def test_what_is_pressed_first_belongs_to_keys_there_are() -> None:
    assert set(BEFORE) <= set(COMMANDS)
