"""A song's own sound, called up as the song is opened."""

from dataclasses import replace
from pathlib import Path
from typing import Any

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


async def test_a_song_without_a_sound_does_not_inherit_the_organ_before_it() -> None:
    organ = replace(charts.LAMPS, midi=Midi(program=17, volume=90))
    app, clock = app_with_clock(charts.harbour_set(charts.HARBOUR, organ))
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("full_stop")
        assert clock.sent == [program(16), control(7, 90)]
        await pilot.press("comma")
        # General MIDI System Level 1: program 1 (0 on the wire) and volume 100 at power up.
        assert clock.sent[2:] == [program(0), control(7, 100)]
        await pilot.press("full_stop", "comma")
        assert clock.sent[4:] == [program(16), control(7, 90), program(0), control(7, 100)]


def test_shared_keys_are_struck_again_as_the_player_wishes_where_the_sound_decays() -> None:
    app, _ = set_up(restrike="chord")
    app.sound.restrike = "chord"
    assert app.sound.touch(replace(charts.LAMPS, sound="piano")).restrike == "chord"
    assert app.sound.touch(replace(charts.LAMPS, sound="organ")).restrike == "never"


def test_a_fault_in_the_players_rhythms_is_said_and_the_others_are_played(tmp_path: Path, monkeypatch: Any) -> None:
    monkeypatch.setenv("STILLHAND_HOME", str(tmp_path))
    (tmp_path / "rhythms.toml").write_text("[pier]\nright = [[0, 1]]\n")
    app, _ = app_with_clock()
    assert app.sound.rhythms() == ()
    assert "rhythms.toml:2:10" in app.session.message
