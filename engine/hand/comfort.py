"""How well some keys lie under some fingers, by the published rules: what a hand feels, whatever it would choose."""

from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from engine.hand.keyboard import UNIT, black, place
from engine.hand.spans import limits

Ints = NDArray[np.int32]
Floats = NDArray[np.float64]

FREE = 128
"""Stands for the key of a finger that holds none, and fills up a row of fewer than five keys."""

STRETCH, EASE_THUMB, EASE_FINGERS = 2.0, 1.0, 2.0
"""Points for each half white key beyond comfort, and beyond ease for pairs with and without the thumb. Source: rules
1 to 3 of Parncutt et al. 1997, as Balliauw et al. 2017 (see `spans`) apply them to the notes of a chord, in their
unit."""

THUMB_ON_BLACK, FIFTH_ON_BLACK = 4.0, 1.0
"""Points for thumb or little finger on a black key while another finger is on a white one. Source: Parncutt et al.
1997, rules 10 and 11 (1 point), common practice for chords; the thumb's raised (own choice), so that a hand which
cannot keep its thumb off black takes another voicing where there is one."""

WEAK_PAIR = 0.5
"""Points for fourth and fifth, or third and fourth, as neighbours in a chord. Source: rules 6 and 7 of Parncutt et
al. 1997 give 1 point; halved here, since in a chord the arm helps (own choice)."""

WIDEST = 48
"""Semitones from which no hand is weighed: far beyond any reach."""

PLACES = np.array([place(key) for key in range(FREE)])
"""Where each key lies, in millimetres (see `keyboard`)."""

BLACK = np.array([black(key) for key in range(FREE)])
"""Whether each key is black."""


def discomfort(keys: Ints, fingers: Ints, reach: float) -> Floats:
    """Return the points of n right hands (n x k keys) with each of c fingerings (c x k fingers): n x c, infinite where
    a pair of fingers cannot span its keys. A left hand counts as a right one: the rules know pairs, not sides."""
    pairs = _pair_points(reach)
    last = keys.shape[1] - 1
    points: Floats = np.zeros((len(keys), len(fingers)))
    for low, high in combinations(range(last + 1), 2):
        apart = np.minimum(keys[:, high] - keys[:, low], WIDEST)
        pair = pairs[fingers[:, low], fingers[:, high]][:, keys[:, low] % 12, apart].T
        # The rules are for neighbours, and for the stretch of the whole hand; of the other pairs only reach counts.
        counts = high == low + 1 or (low, high) == (0, last)
        points += pair if counts else np.where(np.isinf(pair), pair, 0.0)
    if last > 0:
        points[PLACES[keys[:, -1]] - PLACES[keys[:, 0]] > reach] = np.inf
    return points + _black_points(keys, fingers) + _weak_points(fingers)


@lru_cache(maxsize=64)
def _pair_points(reach: float) -> Floats:
    """Return the points of two fingers by finger, finger, pitch class of the lower key and semitones between."""
    wide = widths()
    points = np.full((6, 6, 12, WIDEST + 1), np.inf)
    for one, two in combinations(range(1, 6), 2):
        least, low_ease, high_ease, comfort, widest = limits(reach, one, two)
        ease = EASE_THUMB if one == 1 else EASE_FINGERS
        beyond = np.maximum(0.0, np.maximum(wide - comfort, least - wide)) * STRETCH
        uneasy = np.maximum(0.0, np.maximum(wide - high_ease, low_ease - wide)) * ease
        # Neighbours may be nearer than half a white key where backs are narrow; a millimetre is no reason to refuse.
        able = (wide <= widest + 0.5) & (wide >= UNIT * 0.7)
        points[one, two] = points[two, one] = np.where(able, (beyond + uneasy) / UNIT, np.inf)
    return points


def widths() -> Floats:
    """Return the millimetres between two keys by pitch class of the lower one (12) and semitones between."""
    low, apart = np.ogrid[:12, : WIDEST + 1]
    wide: Floats = PLACES[low + apart] - PLACES[low]
    return wide


def beside_white(keys: Ints) -> NDArray[np.bool_]:
    """Return which keys of some hands (n x k) are black while another one of the hand is white."""
    on: NDArray[np.bool_] = BLACK[keys]
    beside: NDArray[np.bool_] = on & ~on.all(axis=1, keepdims=True)
    return beside


def _black_points(keys: Ints, fingers: Ints) -> Floats:
    each = np.where(fingers == 1, THUMB_ON_BLACK, np.where(fingers == 5, FIFTH_ON_BLACK, 0.0))
    points: Floats = beside_white(keys).astype(np.float64) @ each.T
    return points


def _weak_points(fingers: Ints) -> Floats:
    third, fourth, fifth = ((fingers == finger).any(axis=1) for finger in (3, 4, 5))
    points: Floats = WEAK_PAIR * (fourth & fifth) + WEAK_PAIR * (third & fourth)
    return points
