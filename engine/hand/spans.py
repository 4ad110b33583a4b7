"""How far apart two fingers of one hand lie well: published tables, in half white keys.

The right hand, from the finger on the left to the finger on the right; the left hand is its mirror.
"""

from engine.hand.keyboard import UNIT

Spans = dict[tuple[int, int], tuple[int, int, int, int, int, int]]
"""Finger pair -> (MinPrac, MinComf, MinRel, MaxRel, MaxComf, MaxPrac)."""

BALLIAUW: dict[str, Spans] = {
    "small": {
        (1, 2): (-7, -5, 1, 3, 8, 10), (1, 3): (-6, -4, 3, 6, 10, 12), (1, 4): (-4, -2, 5, 8, 11, 13),
        (1, 5): (-2, 0, 7, 10, 12, 14), (2, 3): (1, 1, 1, 2, 4, 6), (2, 4): (1, 1, 3, 4, 6, 8),
        (2, 5): (2, 2, 5, 6, 8, 10), (3, 4): (1, 1, 1, 2, 2, 4), (3, 5): (1, 1, 3, 4, 6, 8),
        (4, 5): (1, 1, 1, 2, 4, 6),
    },
    "medium": {
        (1, 2): (-8, -6, 1, 5, 8, 10), (1, 3): (-7, -5, 3, 9, 12, 14), (1, 4): (-5, -3, 5, 11, 13, 15),
        (1, 5): (-2, 0, 7, 12, 14, 16), (2, 3): (1, 1, 1, 2, 5, 7), (2, 4): (1, 1, 3, 4, 6, 8),
        (2, 5): (2, 2, 5, 6, 10, 12), (3, 4): (1, 1, 1, 2, 2, 4), (3, 5): (1, 1, 3, 4, 6, 8),
        (4, 5): (1, 1, 1, 2, 4, 6),
    },
    "large": {
        (1, 2): (-10, -8, 1, 6, 9, 11), (1, 3): (-8, -6, 3, 9, 13, 15), (1, 4): (-6, -4, 5, 11, 14, 16),
        (1, 5): (-2, 0, 7, 12, 16, 18), (2, 3): (1, 1, 1, 2, 5, 7), (2, 4): (1, 1, 3, 4, 6, 8),
        (2, 5): (2, 2, 5, 6, 10, 12), (3, 4): (1, 1, 1, 2, 2, 4), (3, 5): (1, 1, 3, 4, 6, 8),
        (4, 5): (1, 1, 1, 2, 4, 6),
    },
}  # fmt: skip
"""Source: Balliauw, Herremans, Palhazi Cuervo and Sörensen, "A variable neighborhood search algorithm to generate
piano fingerings for polyphonic sheet music", International Transactions in Operational Research 24 (2017): spans of a
small, a medium and a large hand. Their unit: 14 to the octave, an unused key counted between E and F and between B
and C."""

PARNCUTT: Spans = {
    (1, 2): (-5, -3, 1, 5, 8, 10), (1, 3): (-4, -2, 3, 7, 10, 12), (1, 4): (-3, -1, 5, 9, 12, 14),
    (1, 5): (-1, 1, 7, 10, 13, 15), (2, 3): (1, 1, 1, 2, 3, 5), (2, 4): (1, 1, 3, 4, 5, 7),
    (2, 5): (2, 2, 5, 6, 8, 10), (3, 4): (1, 1, 1, 2, 2, 4), (3, 5): (1, 1, 3, 4, 5, 7), (4, 5): (1, 1, 1, 2, 3, 5),
}  # fmt: skip
"""In semitones. Source: Parncutt, Sloboda, Clarke, Raekallio and Desain, "An ergonomic model of keyboard fingering
for melodic fragments", Music Perception 14 (1997), table 1. Kept beside the other as a check: one size, and blind to
where the keys lie."""

SMALL_UP_TO, MEDIUM_UP_TO = 176.0, 200.0
"""Reach in millimetres up to which a hand counts as small and as medium: halfway between the widest practical thumb
to little finger of the tables (14, 16 and 18 units are 164.5, 188 and 211.5 mm)."""


def size(reach: float) -> str:
    """Return small, medium or large for a reach in millimetres."""
    return "small" if reach <= SMALL_UP_TO else "medium" if reach <= MEDIUM_UP_TO else "large"


def limits(reach: float, low: int, high: int) -> tuple[float, float, float, float, float]:
    """Return (MinComf, MinRel, MaxRel, MaxComf, MaxPrac) of a finger pair in millimetres, inside a chord.

    Fingers do not cross inside a chord, so a minimum below one half key is no minimum. The widest stretch from thumb
    to little finger is the player's own `reach`; comfort ends a white key and ease two white keys inside it, as in
    the tables.
    """
    _, least, low_ease, high_ease, comfort, most = BALLIAUW[size(reach)][low, high]
    if (low, high) == (1, 5):
        return UNIT, low_ease * UNIT, reach - 4 * UNIT, reach - 2 * UNIT, reach
    return max(least, 1) * UNIT, max(low_ease, 1) * UNIT, high_ease * UNIT, comfort * UNIT, most * UNIT
