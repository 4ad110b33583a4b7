"""Which finger takes a key that a hand plays alone: above all the roots of a left hand."""

import numpy as np

from engine.hand.comfort import Floats, Ints
from engine.hand.grip import LEFT

LOW, HIGH = 47, 53
"""Keys up to which a lone note of the left hand is the little finger's by itself, and from which it is the thumb's.
Source: common practice (a bass note is taken with the fifth finger, a high one with the thumb); B2 and F3 own
choice."""

OUTSIDE = 0.3
"""Points for each semitone that the fifth finger lies above `LOW`, or the thumb below `HIGH` (own choice)."""

LEFT_INNER, RIGHT_OUTER = 2.0, 0.5
"""Points for second to fourth finger on a lone key of the left hand, and for thumb, fourth and fifth on one of the
right hand (own choice)."""


def lone_points(keys: Ints, fingers: Ints, hand: str) -> Floats:
    """Return the points of n hands of one key or none (n x 0 or 1) with each of c fingerings: n x c."""
    if not keys.shape[1]:
        return np.zeros((len(keys), len(fingers)))
    each = fingers[:, 0]
    if hand != LEFT:
        return np.tile(np.where(np.isin(each, (2, 3)), 0.0, RIGHT_OUTER), (len(keys), 1))
    thumb, fifth = (OUTSIDE * np.maximum(0, far) for far in (HIGH - keys, keys - LOW))
    points: Floats = np.where(each == 1, thumb, np.where(each == 5, fifth, LEFT_INNER))
    return points
