"""How a song sounds: as it asks itself, then as the player's own settings do."""

from dataclasses import replace

import pytest

from engine.performance.sound_settings import NOBODYS, Touch, song_touch
from engine.song.model import Midi, Song

OWN = Touch(channel=2, program=16, bank=1, volume=100, restrike="chord")


def test_what_a_song_asks_for_goes_before_the_players_settings(song: Song) -> None:
    touch = song_touch(replace(song, midi=Midi(channel=3, volume=90)), OWN)
    assert (touch.channel, touch.volume, touch.program, touch.bank) == (3, 90, 16, 1)


def test_a_songs_own_program_does_not_go_with_the_players_bank(song: Song) -> None:
    touch = song_touch(replace(song, midi=Midi(program=5)), OWN)
    assert (touch.program, touch.bank) == (4, None)


def test_a_file_is_on_the_first_channel_and_calls_up_nothing_by_itself(song: Song) -> None:
    touch = song_touch(song)
    assert (touch.channel, touch.program, touch.bank, touch.volume) == (1, None, None, None)


@pytest.mark.parametrize(("sound", "program", "restrike"), [("piano", 0, "bar"), ("organ", 16, "never")])
def test_a_songs_sound_has_a_program_and_a_way_to_strike_shared_keys(
    song: Song, sound: str, program: int, restrike: str
) -> None:
    touch = song_touch(replace(song, sound=sound), NOBODYS, by_song=True)
    assert (touch.program, touch.restrike) == (program, restrike)
