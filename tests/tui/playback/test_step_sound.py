"""Each chord sounds as the player steps, where that is wanted."""

from tests.tui.pretended_clock import app_with_clock
from tests.tui.showing import running


async def test_chords_sound_step_by_step_until_they_are_the_players_again() -> None:
    app, clock = app_with_clock()
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.pause()
        assert app.plans.current is not None
        await pilot.press("p")
        assert "each chord sounds" in app.session.message
        await pilot.press("space")
        assert clock.done.count("sound_step") == 2
        await pilot.press("p", "space")
        assert clock.done.count("sound_step") == 2
        assert "panic" in clock.done


async def test_without_a_port_no_chord_sounds_and_that_is_said() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        app.sound.port = ""
        await pilot.press("p")
        assert "no port chosen" in app.session.message
        assert not app.step_sound.on
        assert "sound_step" not in clock.done
