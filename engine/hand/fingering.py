"""Which fingers take which keys: all the ways a hand can hold some keys, and how well each lies, for many at once."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise

import numpy as np
from numpy.typing import NDArray

from engine.hand.grip import RIGHT
from engine.hand.keyboard import OCTAVE, UNIT, black, place
from engine.hand.spans import limits

Ints = NDArray[np.int32]
Numbers = NDArray[np.intp]
Floats = NDArray[np.float64]

FREE = 128
"""Stands for the key of a finger that holds none, and fills up a row of fewer than five keys."""

STRETCH, EASE_THUMB, EASE_FINGERS = 2.0, 1.0, 2.0
"""Points for each half white key beyond comfort, and beyond ease for pairs with and without the thumb. Source: rules
1 to 3 of Parncutt et al. 1997, as Balliauw et al. 2017 (see `spans`) apply them to the notes of a chord, in their
unit."""

THUMB_ON_BLACK, FIFTH_ON_BLACK = 1.0, 1.0
"""Points for thumb or little finger on a black key while another finger is on a white one. Source: Parncutt et al.
1997, rules 10 and 11 (1 point), common practice for chords."""

WEAK_PAIR = 0.5
"""Points for fourth and fifth, or third and fourth, as neighbours in a chord. Source: rules 6 and 7 of Parncutt et
al. 1997 give 1 point; halved here, since in a chord the arm helps (own choice)."""

KEPT = 4
"""Fingerings kept for the same keys: the ones that lie best, those much worse than the best left out."""

SLACK = 3.0
"""Points over the best fingering at which another one is not considered: no hand would choose it (own choice)."""

ROLL = OCTAVE / 2
"""Millimetres beyond its reach that a hand may roll: low note first, the pedal holds it (own choice)."""

ROLLED = 5.0
"""Points for a chord that must be rolled (own choice)."""

_WIDEST = 48
"""Semitones from which no hand is weighed: far beyond any reach."""

_PLACES = np.array([place(key) for key in range(FREE)])
_BLACK = np.array([black(key) for key in range(FREE)])


@dataclass(frozen=True, slots=True, eq=False)
class Fingerings:
    """The g fingerings of some hands. `under`: g x 5, the key under each finger, thumb first, `FREE` for none.
    `points`: g, discomfort, 0.0 lies by itself. `of`: g, the number of the hand, ascending, its best fingering first.
    """

    under: Ints
    points: Floats
    of: Numbers


def fingerings(hands: Ints, hand: str, reach: float) -> Fingerings:
    """Return how each of some hands can be held: none out of reach, the best few of each.

    `hands`: n x 5 keys, ascending, filled up with `FREE`; `reach` in millimetres.
    """
    count = (hands != FREE).sum(axis=1)
    sizes = [(size, np.flatnonzero(count == size)) for size in range(6)]
    return _together([_of_size(hands[of, :size], of, hand, reach) for size, of in sizes if len(of)])


def insisted(hands: Ints, fingers: Sequence[int], hand: str, reach: float) -> Fingerings:
    """Return the one fingering that the player asks for, of all hands of as many keys, however it lies."""
    order = fingers if hand == RIGHT else fingers[::-1]
    of = np.flatnonzero((hands != FREE).sum(axis=1) == len(fingers))
    if any(low >= high for low, high in pairwise(order)):
        of = of[:0]
    chosen = np.array([fingers], dtype=np.int32)
    points = discomfort(hands[of, : len(fingers)], chosen, reach)[:, 0]
    able = np.isfinite(points)
    return _held(hands[of[able], : len(fingers)], np.repeat(chosen, able.sum(), axis=0), points[able], of[able])


def rolled(found: Fingerings, reach: float) -> Fingerings:
    """Return fingerings, found for a reach of `ROLL` more, with the points for those that are wider than the reach."""
    lowest = np.where(found.under == FREE, FREE - 1, found.under).min(axis=1)
    highest = np.where(found.under == FREE, 0, found.under).max(axis=1)
    beyond = _PLACES[highest] - _PLACES[lowest] > reach
    return Fingerings(found.under, found.points + ROLLED * beyond, found.of)


def discomfort(keys: Ints, fingers: Ints, reach: float) -> Floats:
    """Return the points of n hands (n x k keys) with each of c fingerings (c x k fingers): n x c, infinite where a
    pair of fingers cannot span its keys."""
    pairs = _pair_points(reach)
    last = keys.shape[1] - 1
    points: Floats = np.zeros((len(keys), len(fingers)))
    for low, high in combinations(range(last + 1), 2):
        apart = np.minimum(keys[:, high] - keys[:, low], _WIDEST)
        pair = pairs[fingers[:, low], fingers[:, high]][:, keys[:, low] % 12, apart].T
        # The rules are for neighbours, and for the stretch of the whole hand; of the other pairs only reach counts.
        counts = high == low + 1 or (low, high) == (0, last)
        points += pair if counts else np.where(np.isinf(pair), pair, 0.0)
    if last > 0:
        points[_PLACES[keys[:, -1]] - _PLACES[keys[:, 0]] > reach] = np.inf
    return points + _black_points(keys, fingers) + _weak_points(fingers)


def _of_size(keys: Ints, of: Numbers, hand: str, reach: float) -> Fingerings:
    fingers = _choices(keys.shape[1], hand)
    points = discomfort(keys, fingers, reach)
    best = np.argsort(points, axis=1, kind="stable")[:, :KEPT]
    lying = np.take_along_axis(points, best, axis=1)
    row, column = np.nonzero(np.isfinite(lying) & (lying <= lying[:, :1] + SLACK))
    return _held(keys[row], fingers[best[row, column]], lying[row, column], of[row])


def _held(keys: Ints, fingers: Ints, points: Floats, of: Numbers) -> Fingerings:
    under = np.full((len(keys), 5), FREE, dtype=np.int32)
    under[np.arange(len(keys))[:, None], fingers - 1] = keys
    return Fingerings(under, points, of)


def _together(parts: Sequence[Fingerings]) -> Fingerings:
    if not parts:
        return Fingerings(np.empty((0, 5), dtype=np.int32), np.empty(0), np.empty(0, dtype=np.intp))
    under, points, of = (np.concatenate([getattr(part, name) for part in parts]) for name in Fingerings.__slots__)
    order = np.argsort(of, kind="stable")
    return Fingerings(under[order], points[order], of[order])


@lru_cache(maxsize=16)
def _choices(size: int, hand: str) -> Ints:
    """Return all choices of fingers for so many keys, in the order in which equals are preferred."""
    chosen = sorted(each if hand == RIGHT else each[::-1] for each in combinations(range(1, 6), size))
    return np.array(chosen, dtype=np.int32).reshape(len(chosen), size)


@lru_cache(maxsize=64)
def _pair_points(reach: float) -> Floats:
    """Return the points of two fingers by finger, finger, pitch class of the lower key and semitones between."""
    low, apart = np.ogrid[:12, : _WIDEST + 1]
    wide = _PLACES[low + apart] - _PLACES[low]
    points = np.full((6, 6, 12, _WIDEST + 1), np.inf)
    for one, two in combinations(range(1, 6), 2):
        least, low_ease, high_ease, comfort, widest = limits(reach, one, two)
        ease = EASE_THUMB if one == 1 else EASE_FINGERS
        beyond = np.maximum(0.0, np.maximum(wide - comfort, least - wide)) * STRETCH
        uneasy = np.maximum(0.0, np.maximum(wide - high_ease, low_ease - wide)) * ease
        # Neighbours may be nearer than half a white key where backs are narrow; a millimetre is no reason to refuse.
        able = (wide <= widest + 0.5) & (wide >= UNIT * 0.7)
        points[one, two] = points[two, one] = np.where(able, (beyond + uneasy) / UNIT, np.inf)
    return points


def _black_points(keys: Ints, fingers: Ints) -> Floats:
    each = np.where(fingers == 1, THUMB_ON_BLACK, np.where(fingers == 5, FIFTH_ON_BLACK, 0.0))
    on = _BLACK[keys]
    points: Floats = (on & ~on.all(axis=1, keepdims=True)).astype(np.float64) @ each.T
    return points


def _weak_points(fingers: Ints) -> Floats:
    third, fourth, fifth = ((fingers == finger).any(axis=1) for finger in (3, 4, 5))
    points: Floats = WEAK_PAIR * (fourth & fifth) + WEAK_PAIR * (third & fourth)
    return points
