"""Tensions that nobody asked for: what free fingers may add to a chord without contradicting it.

Source: common practice. Altered chords, suspensions with their own ninth, triads, diminished and power chords are
left as they are.
"""

from collections.abc import Iterator
from dataclasses import replace

from engine.chord.model import DEGREE_FIFTHS, Chord, Tone
from engine.voicing.tones import TENSIONS, is_dominant

ADDED: dict[frozenset[str], tuple[str, ...]] = {
    frozenset(("3", "5", "7")): ("9", "13", "#11"),
    frozenset(("b3", "5", "b7")): ("9", "11"),
    frozenset(("3", "5", "b7")): ("9", "13", "#11"),
    frozenset(("b3", "b5", "b7")): ("11",),
    frozenset(("3", "5", "6")): ("9",),
    frozenset(("b3", "5", "6")): ("9",),
    frozenset(("b3", "5", "7")): ("9",),
    frozenset(("4", "5", "b7")): ("9", "13"),
}
"""Degrees above the root -> tensions that may be added, the plainest first."""

TO_MINOR = ("b9", "b13")
"""What a dominant may be given on its way to a minor chord, in place of natural 9 and 13."""


def coloured(chord: Chord, to_minor: bool) -> Iterator[Chord]:
    """Yield a chord with one tension added, or two, beyond those that its symbol asks for."""
    asked = [degree for degree in chord.degrees if degree in TENSIONS]
    allowed = ADDED.get(frozenset(chord.degrees) - {"1", *TENSIONS}, ())
    if any(degree in ("b9", "#9", "b13", "#11") for degree in asked):
        return
    if to_minor and is_dominant(chord):
        allowed = TO_MINOR
    extra = [degree for degree in allowed if degree not in asked]
    for number, first in enumerate(extra):
        yield _with(chord, first)
        yield from (_with(chord, first, second) for second in extra[number + 1 :])


def _with(chord: Chord, *degrees: str) -> Chord:
    added = tuple(Tone(degree, chord.root.up(DEGREE_FIFTHS[degree])) for degree in degrees)
    return replace(chord, tones=(*chord.tones, *added))
