"""A song's own sound, called up as the song is opened."""

from dataclasses import replace

from engine.performance.events import control, program
from engine.song.model import Midi
from tests.tui import charts
from tests.tui.pretended_clock import app_with_clock, set_up
from tests.tui.showing import running
from tui.persistence import store
from tui.persistence.player import Player as Settings
from tui.session import decisions


async def test_a_note_for_the_song_does_not_call_its_sound_up_again() -> None:
    store.save_player(Settings(program="17"))
    app, clock = app_with_clock()
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        app.session.become(decisions.noted(app.session.now, "", "watch the singer"))
        await pilot.press("space")
        assert clock.sent == []


async def test_a_song_calls_up_its_sound_on_entry() -> None:
    app, clock = set_up(program="17", bank=1, volume=100, channel=2)
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("full_stop")
        assert clock.sent == [control(0, 0, 2), control(32, 1, 2), program(16, 2), control(7, 100, 2)]


async def test_what_a_song_asks_for_goes_before_the_players_settings() -> None:
    store.save_player(Settings(program="17", bank=1, volume=100, channel=2))
    own = replace(charts.LAMPS, midi=Midi(channel=3, program=5))
    app, clock = app_with_clock(charts.harbour_set(charts.HARBOUR, own))
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("full_stop")
        assert clock.sent == [program(4, 3), control(7, 100, 3)]
        await pilot.press("comma")
        assert clock.sent[2:] == [control(0, 0, 2), control(32, 1, 2), program(16, 2), control(7, 100, 2)]


async def test_a_songs_own_word_chooses_the_program() -> None:
    store.save_player(Settings(program="song"))
    pad = replace(charts.LAMPS, sound="pad")
    app, clock = app_with_clock(charts.harbour_set(charts.HARBOUR, pad))
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("full_stop")
        assert clock.sent == [program(89)]


async def test_unasked_nothing_is_sent_to_the_instrument() -> None:
    app, clock = app_with_clock()
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("full_stop", "comma")
        assert clock.sent == []
