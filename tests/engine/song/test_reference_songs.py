"""A hundred real progressions, kept outside the repository, written as song files and read again (skipped without)."""

import pytest

from engine.song.reader import read_song
from engine.song.transposing import transpose
from engine.song.unfolding import unfold
from engine.song.writer import write_song
from engine.theory.key import MAJOR_TONICS, read_key
from tests.engine.song.songs import music
from tests.outside.real_songs import FILES, songs

FEW = 3
"""Keys that each song goes to; four songs after one another go to all twelve."""


@pytest.mark.skipif(not FILES, reason="the reference progressions are not beside this repository")
def test_every_reference_song_survives_being_written_and_read() -> None:
    found = songs()
    assert len(found) >= 90
    for song in found:
        again = read_song(write_song(song), "")
        assert music(again) == song
        assert sum(step.beats for step in unfold(again)) == len(song.sections[0].bars) * song.meter.beats


@pytest.mark.skipif(not FILES, reason="the reference progressions are not beside this repository")
def test_reference_songs_keep_their_degrees_in_twelve_keys() -> None:
    for number, song in enumerate(songs()):
        chords = [step.chord for step in unfold(song)]
        for key in MAJOR_TONICS[number % (12 // FEW) :: 12 // FEW]:
            moved = transpose(song, key)
            semitones = (read_key(moved.key).tonic.pc - read_key(song.key).tonic.pc) % 12
            for old, new in zip(chords, (step.chord for step in unfold(moved)), strict=True):
                assert (old and old.degrees) == (new and new.degrees)
                assert not old or not new or (new.bass.pc - old.bass.pc) % 12 == semitones
                assert not new or max(abs(new.root.accidental), abs(new.bass.accidental)) <= 1
