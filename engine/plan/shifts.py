"""What it costs one hand to go from one grip to another, for all pairs of grips at once.

The arm carries the hand, and each finger goes the rest of the way: of all the ways to share the distance between them
the cheapest counts. The same functions give whole matrices for planning and single cells for explaining, all in whole
grains.
"""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.hand.aim import bits
from engine.hand.keyboard import OCTAVE
from engine.plan.hand_states import FREE, HandStates, Ints
from engine.plan.states import Side
from engine.plan.weights import FREE_LEAP, GRAIN, LEGATO, WEIGHTS, grains

SEMITONE = OCTAVE / 12
"""Millimetres: the width of a key as a finger aims at it, black and white alike."""

TUNE = "tune"
"""The hand whose top note is heard as a tune; it also pays for a change of method, once for both hands."""


_BITS = np.array([round(bits(half / 2, SEMITONE) * GRAIN) for half in range(6400)], dtype=np.int32)
"""Grains of aiming by half millimetres, as far as a keyboard is long: a semitone is 1 bit, an octave 4.6."""


@lru_cache(maxsize=2048)
def shift(before: Side, after: Side, role: str, sound: str, same_section: bool) -> Ints:
    """Return the cost of each shift in grains, states before x states after; `role` is `TUNE` for the hand on top."""
    total: Ints = _between(before.grips, after.grips, role, sound)[before.held[:, None], after.held[None, :]]
    if role == TUNE and same_section:
        total = total + changes(before.methods[:, None], after.methods[None, :])
    return total


@lru_cache(maxsize=2048)
def _between(before: HandStates, after: HandStates, role: str, sound: str) -> Ints:
    terms = shift_terms(before.rows(), after.columns(), role, sound)
    total = terms.pop("travel")
    for amounts in terms.values():
        total = total + amounts
    return total


def changes(before: Ints, after: Ints) -> Ints:
    """Return what going from a method to another one costs inside a section."""
    return _grains("change", before != after)


def shift_terms(before: HandStates, after: HandStates, role: str, sound: str) -> dict[str, Ints]:
    """Return the terms in grains of the shifts from `before` to `after`, paired off or crossed by broadcasting."""
    was, now = _by_finger(before.keys) != FREE, _by_finger(after.keys) != FREE
    both = was & now
    holds = (both & (_by_finger(before.keys) == _by_finger(after.keys))).sum(axis=0)
    shared = both.sum(axis=0)
    slides = shared - holds
    landing = now.sum(axis=0) - shared
    common = np.bitwise_count(before.low & after.low) + np.bitwise_count(before.high & after.high).astype(np.int32)
    terms = {
        "travel": _travel(before, after, was, now),
        "strike": _grains("strike", slides),
        "landing": _grains("landing", landing),
        "lift": _grains("lift", was.sum(axis=0) - shared),
        "refinger": _grains("refinger", common - holds),
    }
    if LEGATO[sound]:
        terms["legato"] = slides * np.int32(grains("legato", LEGATO[sound]))
    if role == TUNE:
        leaps = np.abs(before.tops - after.tops) * ((before.tops > 0) & (after.tops > 0))
        terms["leap"] = _grains("leap", np.maximum(0, leaps - FREE_LEAP))
        terms["voices"] = _grains("voices", _voices(before, after))
    return terms


def _travel(before: HandStates, after: HandStates, was: NDArray[np.bool_], now: NDArray[np.bool_]) -> Ints:
    """Return the cheapest sum of the arm's way and of each finger's way beside it.

    The arm stays, or goes as far as one of the fingers, playing or resting, would. A finger that was free goes from
    where it rested, its aim costing half: it needs no leaving. A hand that rested is anywhere.
    """
    ways = _by_finger(after.at) - _by_finger(before.at)
    weights = (now & was.any(axis=0)) * (was + np.int32(1))
    best = _aims(ways, weights)
    for arm in ways:
        best = np.minimum(best, _aims(ways - arm, weights) + 2 * _BITS.take(np.abs(arm)))
    # `best` is in grains, doubled for the halves.
    total: Ints = np.rint(best * (WEIGHTS["travel"].value / 2)).astype(np.int32)
    return total * weights.any(axis=0)


def _aims(ways: Ints, weights: Ints) -> Ints:
    total: Ints = (_BITS.take(np.abs(ways)) * weights).sum(axis=0, dtype=np.int32)
    return total


def _by_finger(numbers: Ints) -> Ints:
    """Return an array with the finger axis first, where numpy adds up quickest."""
    return np.moveaxis(numbers, -1, 0)


def _voices(before: HandStates, after: HandStates) -> Ints:
    """Return how many semitones the notes of `after` lie from the nearest note of `before`, all together."""
    near = before.near.reshape(-1, FREE + 1)
    grip = np.arange(len(near)).reshape(before.keys.shape[:-1])
    total: Ints = near[grip, after.keys[..., 0]]
    for keys in _by_finger(after.keys)[1:]:
        total = total + near[grip, keys]
    return total


def _grains(term: str, amounts: Ints | NDArray[np.bool_]) -> Ints:
    whole: Ints = amounts * np.int32(grains(term, 1))
    return whole
