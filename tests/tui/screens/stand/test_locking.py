"""A stand locked for the stage."""

from tests.tui.showing import place, running, shown, stand_app


async def test_a_locked_stand_asks_before_it_changes_the_song() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("l")
        assert "locked" in shown(app)[0]
        await pilot.press("full_stop")
        assert "locked: another song?" in shown(app)[0]
        await pilot.press("x")
        assert "1/3" in shown(app)[0]
        await pilot.press("full_stop", "enter")
        await pilot.pause()
        assert "2/3" in shown(app)[0]


async def test_a_locked_stand_steps_and_jumps() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("l", "space", "j", "b")
        assert place(app).startswith("Bridge")


async def test_a_locked_stand_quits_when_it_is_meant() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("l", "q")
        assert "quit?" in shown(app)[0]
        await pilot.press("y")
        await pilot.pause()
    assert app.return_code == 0


async def test_a_locked_stand_goes_back_in_the_song_and_asks_before_another_one() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("l", "space", "j", "b", "enter", "z")
        assert place(app).startswith("Intro, bar 2")
        await pilot.press("full_stop", "enter")
        await pilot.pause()
        await pilot.press("z")
        assert "locked: back to the other song?" in shown(app)[0]
        await pilot.press("enter")
        await pilot.pause()
        assert "1/3" in shown(app)[0]
