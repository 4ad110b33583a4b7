"""Which fingers take which keys: all the ways a hand can hold some keys, and how well each lies, for many at once."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from engine.hand.comfort import FREE, PLACES, Floats, Ints, discomfort
from engine.hand.finger_choice import against, fitted
from engine.hand.grip import LEFT, RIGHT
from engine.hand.keyboard import OCTAVE
from engine.hand.lone_keys import lone_points

__all__ = ["FREE", "Fingerings", "Floats", "Ints", "Numbers", "fingerings", "insisted", "spans", "with_rolls"]

Numbers = NDArray[np.intp]

LOG_ODD = 1.5
"""Points that a log odd counts (see `finger_choice`). Own choice: as large as needed for fingers that hardly depend on
the chord before, since with the pedal down a pianist takes each chord afresh."""

SLACK = (0.0, 4.0, 4.0, 5.0, 5.0, 5.0)
"""Log odds over the best fingering at which another one is not considered, by how many keys a hand holds. Of printed
fingerings (see `finger_choice`) 99 % are inside, on pieces that the model has not seen (folds as there)."""

ROLL = OCTAVE / 2
"""Millimetres beyond its reach that a hand may roll: low note first, the pedal holds it (own choice)."""

ROLLED = 8.0
"""Points for a chord that must be rolled: as the widest stretch inside the reach (own choice, see `comfort`)."""


@dataclass(frozen=True, slots=True, eq=False)
class Fingerings:
    """The g fingerings of some hands. `under`: g x 5, the key under each finger, thumb first, `FREE` for none.
    `points`: g, 0.0 lies by itself: what the shape costs any fingers (see `comfort`), and what these fingers cost more
    than the ones that it asks for (see `finger_choice`). `of`: g, the number of the hand, ascending, its best
    fingering first.
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
    of = np.flatnonzero((hands != FREE).sum(axis=1) == len(fingers))
    every = _choices(len(fingers), hand)
    asked = np.flatnonzero((every == np.array(fingers, dtype=np.int32)).all(axis=1))
    points = _points(hands[of, : len(fingers)], every, hand, reach)[:, asked]
    row = np.flatnonzero(np.isfinite(points).all(axis=1)) if len(asked) else of[:0]
    chosen = np.repeat(every[asked], len(row), axis=0)
    return _held(hands[of[row], : len(fingers)], chosen, points[row].reshape(len(row)), of[row])


def with_rolls(hands: Ints, reach: float, held: Callable[[Ints, float], Fingerings]) -> Fingerings:
    """Return how some hands are held, and how those wider than the reach are rolled, for `ROLLED` points more.

    `held` finds the fingerings of hands at a reach. A hand inside the reach is weighed at that reach and no other.
    """
    wide = np.flatnonzero(spans(hands) > reach)
    rolls = held(hands[wide], reach + ROLL)
    return _together([held(hands, reach), Fingerings(rolls.under, rolls.points + ROLLED, wide[rolls.of])])


def spans(hands: Ints) -> Floats:
    """Return the millimetres from the lowest to the highest key of each hand (n x 5, ascending), 0 for no keys."""
    highest = np.where(hands == FREE, 0, hands).max(axis=1)
    lowest = np.where(hands[:, 0] == FREE, highest, hands[:, 0])
    wide: Floats = PLACES[highest] - PLACES[lowest]
    return wide


def _of_size(keys: Ints, of: Numbers, hand: str, reach: float) -> Fingerings:
    fingers = _choices(keys.shape[1], hand)
    points = _points(keys, fingers, hand, reach)
    order = np.argsort(points, axis=1, kind="stable")
    lying = np.take_along_axis(points, order, axis=1)
    slack = SLACK[keys.shape[1]] * LOG_ODD
    row, column = np.nonzero(np.isfinite(lying) & (lying <= lying[:, :1] + slack))
    return _held(keys[row], fingers[order[row, column]], lying[row, column], of[row])


def _points(keys: Ints, fingers: Ints, hand: str, reach: float) -> Floats:
    """Return the points of n hands (n x k keys) with each of c fingerings (c x k fingers): n x c, infinite where a
    hand cannot span its keys with them."""
    if keys.shape[1] < 2:
        return lone_points(keys, fingers, hand)
    shape = discomfort(keys, fingers, reach)
    able = np.isfinite(shape)
    odds = np.where(able, _odds(keys, fingers, hand, reach), np.inf)
    least = np.where(able.any(axis=1, keepdims=True), odds.min(axis=1, keepdims=True), 0.0)
    points: Floats = LOG_ODD * (odds - least) + shape.min(axis=1, keepdims=True)
    return points


def _odds(keys: Ints, fingers: Ints, hand: str, reach: float) -> Floats:
    if hand == LEFT:
        # Round D4 the keyboard is its own mirror image, and the left hand there a right one.
        keys, fingers = (124 - keys[:, ::-1]), fingers[:, ::-1]
    return against(keys, fingers, reach, fitted())


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
