"""The practice log behind the shed: read at the door, added to after each try, its troubles said."""

from tests.tui.screens.in_the_shed import kept, log_quiet, opened
from tests.tui.showing import running, shown, stand_app, text
from tui.persistence import practice_log


async def test_at_the_first_use_the_caution_is_shown_and_then_no_more() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await opened(app, pilot, read=False)
        assert "stop before anything" in text(app)
        await pilot.press("right", "t", "down")
        assert "stop before anything" in text(app)
        await pilot.press("enter")
        assert "hurts." not in text(app)
        assert (await kept(app)).cautioned
        await pilot.press("escape")
        await opened(app, pilot, read=False)
        assert "tonight's plan of 30 minutes" in text(app)


async def test_the_log_is_taken_up_again_on_another_evening() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("right", "right")
        await kept(app)
        await pilot.press("escape")
        again = await opened(app, pilot, read=False)
        assert again is not screen
        assert len(again.tries.tries) == 2
        assert "2 tries kept" in shown(app)[0]
        assert " 1○" in shown(app)[3]


async def test_broken_lines_of_the_log_are_said_and_left_alone() -> None:
    path = practice_log.log_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text('{"caution": "seen"}\nscribbled\n{"when": "2026-')
    app = stand_app()
    async with running(app) as pilot:
        await opened(app, pilot, read=False)
        assert "2 lines of the practice log are unreadable" in shown(app)[0]
        await pilot.press("right")
        assert len((await kept(app)).tries) == 1
        assert path.read_text().startswith('{"caution": "seen"}\nscribbled\n{"when": "2026-\n')


async def test_a_log_that_cannot_be_written_is_said_and_practice_goes_on() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await kept(app)
        path = practice_log.log_path()
        path.unlink()
        path.mkdir()
        await pilot.press("right")
        await log_quiet(app)
        await pilot.pause()
        assert "could not be kept" in shown(app)[0]
        assert len(screen.tries.tries) == 1


async def test_a_log_that_cannot_be_read_is_said() -> None:
    practice_log.log_path().mkdir(parents=True)
    app = stand_app()
    async with running(app) as pilot:
        await opened(app, pilot, read=False)
        assert "practice log cannot be read" in shown(app)[0]
        await pilot.press("down")
        assert any(row.startswith(">  2") for row in shown(app))


async def test_too_many_tries_in_a_row_are_answered_with_care() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await opened(app, pilot)
        await pilot.press(*["right"] * 6)
        assert "care: 6 tries in a row" in text(app)
