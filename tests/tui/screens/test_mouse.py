"""Where a mouse is, a click does what it points at: a section, a song, a bar, an entry of the line of keys."""

from tests.tui.showing import Player, running, shown, stand_app
from tui.app import StandApp
from tui.screens.chart.screen import ChartScreen
from tui.screens.set.screen import SetScreen


async def click(app: StandApp, pilot: Player, words: str) -> None:
    """Click on the first place of the screen where these words stand."""
    app.session.toured = 99
    app.show_top()
    await pilot.pause()
    y, row = next((y, row) for y, row in enumerate(shown(app)) if words in row)
    await pilot.pilot.click(offset=(row.index(words) + 1, y))
    await pilot.pause()


async def test_a_click_on_a_section_of_the_roadmap_goes_there() -> None:
    app = stand_app()
    async with running(app, (160, 30)) as pilot:
        await click(app, pilot, "Bridge")
        assert app.session.now.now is not None
        assert (app.session.now.now.section, app.session.now.now.bar) == ("Bridge", 1)
        await click(app, pilot, "Intro")
        assert app.session.now.step == 0


async def test_a_click_on_an_entry_of_the_line_of_keys_is_its_command() -> None:
    app = stand_app()
    async with running(app, (160, 30)) as pilot:
        await click(app, pilot, "space next")
        assert app.session.now.step == 1
        await click(app, pilot, "s set")
        assert isinstance(app.screen, SetScreen)
        await click(app, pilot, "s stand")
        assert app.screen is app.stand


async def test_a_click_on_a_song_of_the_set_selects_it() -> None:
    app = stand_app()
    async with running(app, (160, 30)) as pilot:
        await pilot.press("s")
        await click(app, pilot, "Slow Ferry")
        assert isinstance(app.screen, SetScreen)
        assert app.screen.cursor == 2
        assert app.session.now.song == 0


async def test_a_click_on_a_bar_of_the_song_selects_it() -> None:
    app = stand_app()
    async with running(app, (160, 30)) as pilot:
        await pilot.press("b")
        await click(app, pilot, "Fm7")
        assert isinstance(app.screen, ChartScreen)
        assert app.session.now.steps[app.screen.cursor].symbol == "Fm7"


async def test_a_click_answers_no_question() -> None:
    app = stand_app()
    async with running(app, (160, 30)) as pilot:
        await pilot.press("t", "1", "0", "0")
        await click(app, pilot, "space next")
        assert app.session.now.step == 0
        assert app.stand.prompt is not None


async def test_a_click_on_a_locked_stand_asks_first() -> None:
    app = stand_app()
    async with running(app, (160, 30)) as pilot:
        await pilot.press("l")
        await click(app, pilot, "s set")
        assert app.screen is app.stand
        assert "locked: leave the stand?" in shown(app)[0]
