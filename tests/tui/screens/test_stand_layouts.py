"""The stand in windows of every size and in its layouts."""

from dataclasses import replace

import pytest

from tests.tui import charts
from tests.tui.showing import running, shown, stand_app, text
from tui.persistence.player import Player
from tui.persistence.saved_state import save_player


async def test_the_leader_sees_the_roadmap_large_and_what_the_horns_read() -> None:
    app = stand_app(replace(charts.harbour_set(), horns=("Bb", "Eb")))
    async with running(app, (120, 36)) as pilot:
        await pilot.press("v")
        assert "layout: leader" in shown(app)[0]
        assert "B♭ horn" in text(app)
        assert "Fmaj7" in text(app)


async def test_the_split_layout_has_the_bars_beside_the_hands() -> None:
    app = stand_app()
    async with running(app, (140, 36)) as pilot:
        await pilot.press("v", "v", "space")
        assert app.session.now.layout == "split"
        (row,) = [row for row in shown(app) if "Verse, pass 1 of 2" in row]
        assert "█" in row[:80], "the chord stands beside its bars"


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 60), (60, 20), (40, 10), (20, 5), (10, 3), (1, 1)])
async def test_every_size_is_filled_exactly(size: tuple[int, int]) -> None:
    app = stand_app()
    async with running(app, size) as pilot:
        await pilot.press("space")
        rows = shown(app)
        assert len(rows) == size[1]
        assert all(len(row) == size[0] for row in rows)


async def test_a_small_terminal_shows_the_chords_and_asks_for_more() -> None:
    app = stand_app()
    async with running(app, (40, 10)):
        assert "make the window larger" in text(app)
        assert "█" in text(app)


async def test_a_window_too_small_for_the_split_layout_is_said() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("v", "v")
        assert "layout: split: in a window of 100x20 or more" in shown(app)[0]
    app = stand_app()
    async with running(app, (120, 36)) as pilot:
        await pilot.press("v", "v")
        assert shown(app)[0].strip() == "layout: split"


async def test_the_coming_bars_stand_in_place_of_the_roadmap_at_a_key() -> None:
    app = stand_app()
    async with running(app) as pilot:
        assert "[Intro]" in text(app)
        await pilot.press("minus")
        assert "[Intro]" not in text(app)
        assert "Verse: E♭maj7" in text(app)
        await pilot.press("minus")
        assert "[Intro]" in text(app)


async def test_in_a_wide_window_the_coming_bars_are_always_there() -> None:
    app = stand_app()
    async with running(app, (100, 30)):
        assert "[Intro]" in text(app)
        assert "Verse: E♭maj7" in text(app)


async def test_a_set_opens_in_the_players_own_layout() -> None:
    save_player(Player(layout="leader"), Player())
    app = stand_app()
    async with running(app):
        assert app.session.now.layout == "leader"
