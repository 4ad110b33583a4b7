"""Comping rhythms as data: when each hand strikes in a bar, how long and how loud.

Places and lengths count pulses from the start of the bar: quarters in simple meters, dotted quarters in compound ones
(see `engine.theory.pulses`). An off-beat stands at 1/2; swing and compound meters play it on the last third.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from engine.comp_names import plain_name

FIGURE = 4
"""Pulses of a figure: a shorter bar leaves the rest out, a longer one begins the figure again."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """One stroke of a hand at `place` for `length` pulses.

    `accent` is -1 soft, 0 or 1 loud; `tone` is None for all keys of the hand, else the turn in a broken chord: 0 the
    lowest key, up to the highest and down again."""

    place: Fraction
    length: Fraction
    accent: int = 0
    tone: int | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """The strokes of one bar for each hand, in the order of time."""

    left: tuple[Stroke, ...]
    right: tuple[Stroke, ...]


@dataclass(frozen=True, slots=True)
class Rhythm:
    """A comping rhythm: `bars` follow one another and begin again. `thirds` are played as written, never swung.

    `anticipates`: a chord as near to the stroke before it as to the one after comes early, not late.
    """

    name: str
    bars: tuple[Figure, ...]
    thirds: bool = False
    anticipates: bool = False
    source: str = "common practice"


def strokes(*given: tuple[str, str] | tuple[str, str, int] | tuple[str, str, int, int]) -> tuple[Stroke, ...]:
    """Return strokes from (place, length, accent, tone) with places and lengths as "0", "1.5" or "2/3"."""
    return tuple(Stroke(Fraction(place), Fraction(length), *more) for place, length, *more in given)


def _both(*given: tuple[str, str] | tuple[str, str, int]) -> tuple[Figure, ...]:
    return (Figure(strokes(*given), strokes(*given)),)


_HALVES = strokes(("0", "2"), ("2", "2"))
_BROKEN = tuple(
    Stroke(half + Fraction(third, 3), 2 - Fraction(third, 3), 1 if third == 0 else 0, third)
    for half in (Fraction(0), Fraction(2))
    for third in range(6)
)

RHYTHMS: tuple[Rhythm, ...] = (
    Rhythm("whole", _both(("0", "4"))),
    Rhythm("half", (Figure(_HALVES, _HALVES),)),
    Rhythm("quarters", _both(("0", "0.9"), ("1", "0.9", 1), ("2", "0.9"), ("3", "0.9", 1))),
    Rhythm(
        "charleston", _both(("0", "1.5"), ("1.5", "0.5", 1)),
        source="Modern Drummer, The Charleston (J. Young); The Jazz Chameleon, The Charleston: 1 and the and of 2, a "
        "chord on 3 comes half a beat early",
    ),
    Rhythm("reverse charleston", _both(("0.5", "1.5", 1), ("2", "0.5"))),
    Rhythm("off-beats", (Figure(_HALVES, strokes(("0.5", "0.4"), ("1.5", "0.4"), ("2.5", "0.4"), ("3.5", "0.4"))),)),
    Rhythm(
        "bossa",
        (
            Figure(_HALVES, strokes(("0", "1", 1), ("1", "1"), ("2.5", "0.5"), ("3.5", "1", 1))),
            Figure(_HALVES, strokes(("0.5", "1.5"), ("2", "1", 1), ("3", "0.5"))),
        ),
        anticipates=True,
        source="common practice; the groups of eighths 2-3-2-2-3-2-2 over two bars (F. Haque, 1-2-3 Bossa Nova, 2)",
    ),
    Rhythm(
        "ballad eighths",
        (Figure(_HALVES, tuple(Stroke(Fraction(n, 2), Fraction(1, 2), -1 if n % 2 else 0) for n in range(8))),),
    ),
    Rhythm("6/8 broken", (Figure(_HALVES, _BROKEN),), thirds=True),
    Rhythm(
        "shuffle",
        (
            Figure(
                strokes(("0", "1"), ("1", "1"), ("2", "1"), ("3", "1")),
                tuple(
                    Stroke(Fraction(beat) + Fraction(2, 3) * late, Fraction(1, 3) * (2 - late), -late)
                    for beat in range(4)
                    for late in (0, 1)
                ),
            ),
        ),
        thirds=True,
    ),
    Rhythm("pushes", _both(("1.5", "2", 1), ("3.5", "2", 1)), anticipates=True),
)  # fmt: skip
"""Each with its source; where none is named it is common practice."""


def rhythm_named(name: str, own: Iterable[Rhythm] = ()) -> Rhythm | None:
    """Return a rhythm by its name, the player's own first; None for "" and for a name that nobody knows."""
    wanted = plain_name(name)
    return next((rhythm for rhythm in (*own, *RHYTHMS) if wanted and rhythm.name == wanted), None)
