"""Whatever stands in a file that came from elsewhere, no screen sends the terminal a character that steers it."""

from pathlib import Path

import pytest
from textual import events

from tests.tui.sets_in_files import put
from tests.tui.showing import Player, running, shown, stand_app
from tui.app import StandApp
from tui.persistence import store

STEERING = "\x1b]0;title\x07\x9b31m\u202e\x85"
"""A window's title, a colour by C1, text that runs backwards, a line end of C1. Source: ECMA-48; Unicode 15, 23.2."""
WRITTEN = "".join(f"\\u{ord(sign):04x}" for sign in STEERING)
SONG = f"""\
title = "A{WRITTEN}"
key = "C"
meter = "4/4"
tempo = 100
note = "n{WRITTEN}"
[sections.V]
cue = "c{WRITTEN}"
bars = "| Dm7 | G7 | C |"
"""
SCREENS = ("s", "b", "y", "a", "m", "question_mark", "tab", "slash", "n")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    put(tmp_path, "song.toml", SONG)
    put(tmp_path, "raw.toml", f'title = "{STEERING}"\n# {STEERING} and on\n')
    put(tmp_path, "C1 \x9b and \u202e.toml", SONG)
    files = ("song.toml", "raw.toml", "C1 \\u009b and \\u202e.toml", f"none{WRITTEN}.toml")
    entries = "".join(f'[[songs]]\nfile = "{name}"\n' for name in files)
    return put(tmp_path, "set.toml", f'title = "S{WRITTEN}"\nplace = "p{WRITTEN}"\n{entries}')


def all_seen(app: StandApp) -> bool:
    return "".join(shown(app)).isprintable()


@pytest.mark.parametrize("key", SCREENS)
async def test_a_screen_shows_none_of_it(path: Path, key: str) -> None:
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        assert all_seen(app)
        await pilot.press(key)
        assert all_seen(app)


async def test_the_text_of_a_file_is_shown_with_signs_in_their_places(path: Path) -> None:
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("s", "down", "e")
        assert all_seen(app)
        signs = len(STEERING) - len("]0;title31m")
        assert sum(row.count("\N{REPLACEMENT CHARACTER}") for row in shown(app)) >= signs


async def test_a_line_that_is_typed_takes_none_of_it_from_a_paste(path: Path) -> None:
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("n")
        await _pasted(app, pilot, f"softer{STEERING}here")
        assert all_seen(app)
        assert "softer" in "".join(shown(app))


async def _pasted(app: StandApp, pilot: Player, text: str) -> None:
    app.screen.post_message(events.Paste(text))
    await pilot.pause()
