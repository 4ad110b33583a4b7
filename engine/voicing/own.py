"""Whether keys that nobody planned say a chord: a player's own voicing."""

from engine.chord.model import Chord
from engine.voicing.colours import coloured
from engine.voicing.tones import demands


def says(chord: Chord, keys: frozenset[int], bass_wanted: bool = False) -> bool:
    """Return whether keys (MIDI numbers, at least one) have all that a voicing of the chord owes and nothing foreign to
    it: its own tones, and the tensions that free fingers may add. With `bass_wanted` the chord's bass lies lowest."""
    if not demands(chord).met(tuple(sorted(keys)), owes_bass=bass_wanted):
        return False
    sounding = {key % 12 for key in keys}
    richer = [chord, *coloured(chord, to_minor=False), *coloured(chord, to_minor=True)]
    return any(sounding <= {chord.bass.pc, *(tone.pc for tone in one.tones)} for one in richer)
