"""Bars put in, taken out and copied at the cursor; the song's own file says so, and undo takes it back."""

from pathlib import Path

import pytest

from tests.tui.sets_in_files import pier
from tests.tui.showing import Player, running, shown, stand_app, waited
from tui.app import StandApp
from tui.persistence import store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return pier(tmp_path)


def verse(path: Path) -> str:
    return path.with_name("pier.toml").read_text().split('"')[9]


async def undone(app: StandApp, pilot: Player) -> None:
    await pilot.press("u")
    await app.files.songs.write_back()


async def test_bars_are_put_in_after_the_cursor_or_before_it(path: Path) -> None:
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("b", "down", "i", *"Am7 D7 | Gm7", "enter")
        await waited(pilot, app, "2 bars put into Verse")
        assert verse(path) == "| Dm7 | G7 | Am7 D7 | Gm7 | Cmaj7 | % |"
        await undone(app, pilot)
        assert verse(path) == "| Dm7 | G7 | Cmaj7 | % |"
        await pilot.press("up", "up", "i", "up", *"Am7", "enter")
        await waited(pilot, app, "1 bar put into Verse")
        assert verse(path) == "| Am7 | Dm7 | G7 | Cmaj7 | % |"


async def test_a_symbol_is_completed_with_tab(path: Path) -> None:
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("b", "i", *"Am7 Dma", "tab")
        assert shown(app)[1].strip() == "Am7 Dmaj7"


async def test_a_bar_is_taken_out_and_the_bar_that_repeated_it_keeps_its_chord(path: Path) -> None:
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("b", "down", "down", "x")
        await waited(pilot, app, "Verse bar 3 taken out")
        assert verse(path) == "| Dm7 | G7 | Cmaj7 |"
        await undone(app, pilot)
        assert verse(path) == "| Dm7 | G7 | Cmaj7 | % |"


async def test_the_bars_of_a_mark_are_copied_and_put_in_elsewhere(path: Path) -> None:
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("b", "l", "down", "c")
        assert "Verse bars 1 to 2 copied" in shown(app)[0]
        await pilot.press("down", "down", "v")
        await pilot.pause(0.05)
        assert shown(app)[1].strip() == "Dm7 | G7"
        await pilot.press("enter")
        await waited(pilot, app, "2 bars put into Verse")
        assert verse(path) == "| Dm7 | G7 | Cmaj7 | % | Dm7 | G7 |"


async def test_the_bars_of_a_mark_are_taken_out_together(path: Path) -> None:
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("b", "l", "down", "x")
        await waited(pilot, app, "Verse bars 1 to 2 taken out")
        assert verse(path) == "| Cmaj7 | % |"


async def test_a_section_keeps_its_last_bar(path: Path) -> None:
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("b", "l", "down", "down", "down", "x")
        await waited(pilot, app, "drop the section as a whole")
