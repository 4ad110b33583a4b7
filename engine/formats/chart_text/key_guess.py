"""The key of a chart that does not say it: the one whose scale holds most of its chords."""

from collections.abc import Sequence

from engine.chord.model import Chord
from engine.theory.key import Key
from engine.theory.pitch import NATURAL, NoteName
from engine.voicing.tones import is_dominant

MAJOR = tuple(NATURAL.values())
"""Half steps of a major scale above its tonic."""


def likely_keys(chords: Sequence[Chord]) -> list[Key]:
    """Return the keys of some chords, the likeliest first; C where there are none. Ties: fewer sharps or flats first.

    Own choice: each chord counts for its root and third in the scale, the last and the first for being the tonic.
    """
    keys = [Key(NoteName(fifths + (3 if minor else 0)), minor) for minor in (False, True) for fifths in range(-6, 6)]
    return sorted(keys, key=lambda key: (-_fit(key, chords), abs(key.signature), key.minor))


def _fit(key: Key, chords: Sequence[Chord]) -> float:
    relative = (key.tonic.pc + (3 if key.minor else 0)) % 12
    scale = {(relative + step) % 12 for step in MAJOR}
    points = 0.0
    for chord in chords:
        inside = {tone.pc for tone in chord.tones} <= scale
        # The dominant of a minor key has a raised third.
        leading = key.minor and chord.root.pc == (key.tonic.pc + 7) % 12 and "3" in chord.degrees
        points += 1.0 if inside or leading else 0.5 if chord.root.pc in scale else 0.0
    for at, weight in ((-1, 2.0), (0, 1.0)):
        if chords and _tonic(chords[at], key):
            points += weight
    return points


def _tonic(chord: Chord, key: Key) -> bool:
    """Return whether a chord can be the key's own: on its tonic, of its mode, no dominant seventh."""
    return chord.root.pc == key.tonic.pc and ("b3" in chord.degrees) == key.minor and not is_dominant(chord)
