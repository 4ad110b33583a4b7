"""What a horn reads: a song in the horn's own written pitch, for a copy, never for keeping."""

from dataclasses import replace

from engine.song.model import Song
from engine.song.transposing import WRITTEN, shifted
from engine.theory.key import between, read_key, sensible


def written_for(song: Song, horn: str) -> Song:
    """Return a song as a horn in the key of `horn` reads it: concert Eb is F for Bb horns, C for Eb horns. Of what a
    left hand plays it reads nothing.

    Raises:
        KeyError: there is no such horn.
    """
    fifths = WRITTEN[horn]
    song = replace(song, left_hand="", sections=tuple(replace(part, left_hand="") for part in song.sections))
    if not fifths:
        return song
    old = read_key(song.key)
    new = sensible(old.up(fifths))
    return shifted(song, between(old, new), str(new))
