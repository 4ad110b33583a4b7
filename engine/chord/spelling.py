"""The names of a chord's tones: by letter as the degrees say, but by the name that a player reads at once.

Source: common practice. In an altered dominant C is C, not B sharp; nobody reads a double sharp or flat on the stand.
The degree stays exact: a #9 is a #9 whatever its note is called.
"""

from functools import lru_cache

from engine.chord.model import DEGREE_FIFTHS, Tone
from engine.theory.pitch import NoteName

SINGLE = range(-8, 13)
"""Places on the line of fifths, Fb to B#, that have at most one sign."""
PLAIN_SHARPS = range(-8, 11)
"""The same without E# and B#."""


@lru_cache(maxsize=4096)
def spelled_tones(root: NoteName, degrees: tuple[str, ...]) -> tuple[Tone, ...]:
    """Return the tones of these degrees on a root, named as a reader expects."""
    dominant = "3" in degrees and "b7" in degrees
    return tuple(Tone(degree, _name(root, degree, dominant)) for degree in degrees)


def _name(root: NoteName, degree: str, dominant: bool) -> NoteName:
    """Return a tone's name; a raised fifth or ninth of a dominant is no E# or B# either."""
    name = root.up(DEGREE_FIFTHS[degree])
    allowed = PLAIN_SHARPS if dominant and degree in ("#5", "#9") else SINGLE
    while name.fifths not in allowed:
        name = name.up(-12 if name.fifths > 0 else 12)
    return name
