"""What it costs one hand to go from one grip to another, for all pairs of grips at once.

The arm carries the hand, and each finger goes the rest of the way: of all the ways to share the distance between them
the cheapest counts. The same terms give whole matrices for planning and single shifts for explaining, all in whole
grains.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from engine.hand.aim import bits
from engine.hand.fingering import FREE, Ints, Numbers
from engine.hand.keyboard import OCTAVE
from engine.plan.hand_states import HandStates, Landing
from engine.plan.states import Side
from engine.plan.weights import FREE_LEAP, GRAIN, LEGATO, WEIGHTS, grains

SEMITONE = OCTAVE / 12
"""Millimetres: the width of a key as a finger aims at it, black and white alike."""

TUNE = "tune"
"""The hand whose top note is heard as a tune; it also pays for a change of method, once for both hands."""

_LENGTH = 6400
"""Half millimetres, longer than a keyboard."""

_AHEAD = [round(bits(half / 2, SEMITONE) * GRAIN) for half in range(_LENGTH)]
_BITS = np.array(_AHEAD + _AHEAD[:0:-1], dtype=np.int32)
"""Grains of aiming by half millimetres, backwards by negative ones: a semitone is 1 bit, an octave 4.6."""


@lru_cache(maxsize=2048)
def shift(before: Side, after: Side, role: str, sound: str, same_section: bool) -> Ints:
    """Return the cost of each shift in grains, states before x states after; `role` is `TUNE` for the hand on top."""
    total: Ints = _between(before.grips, after.grips, role, sound)[before.held[:, None], after.held[None, :]]
    if role == TUNE and same_section:
        total += changes(before.methods[:, None], after.methods[None, :])
    return total


@lru_cache(maxsize=2048)
def _between(before: HandStates, after: HandStates, role: str, sound: str) -> Ints:
    total = np.empty((len(after.tops), len(before.tops)), dtype=np.int32)
    for landing in after.landings:
        terms = _terms(_crossed(before, after, landing), role, sound)
        total[landing.numbers] = sum(terms.values())
    return total.T


def changes(before: Ints, after: Ints) -> Ints:
    """Return what going from a method to another one costs inside a section."""
    return _grains("change", before != after)


def shift_terms(path: HandStates, role: str, sound: str) -> dict[str, Ints]:
    """Return the terms in grains of the shifts along a path: into each of its grips from the one before, and into
    the first from the last."""
    return _terms(_along(path), role, sound)


@dataclass(frozen=True, slots=True, eq=False)
class _Meeting:
    """Grips before and after, to be compared: fingers first, those that may land before the others, then any number
    of axes, those of before the last.

    Of fingers that may land, `now`, `was`: whether one holds a key after and before. `stays`: on the same key. `near`:
    semitones from its key to the nearest one held before. Of all five, `ways`: half millimetres it goes. `held`: how
    many keys were, `tops`: before and after.
    """

    now: NDArray[np.bool_]
    was: NDArray[np.bool_]
    stays: NDArray[np.bool_]
    ways: Numbers
    near: Ints
    held: Ints
    tops: tuple[Ints | Numbers, Ints | Numbers]


def _crossed(before: HandStates, after: HandStates, landing: Landing) -> _Meeting:
    """Return every grip after (rows) against every one before; only the fingers that land need a look."""
    under, keys = before.keys[landing.fingers[: len(landing.keys)]], landing.keys[..., None]
    return _Meeting(
        now=keys != FREE,
        was=under != FREE,
        stays=under == keys,
        ways=landing.at[..., None] - before.at[landing.fingers],
        near=before.near[landing.keys],
        held=(before.keys != FREE).sum(axis=0),
        tops=(before.tops, after.tops[landing.numbers][:, None]),
    )


def _along(path: HandStates) -> _Meeting:
    under, at, tops = (np.roll(array, 1, axis=-1) for array in (path.keys, path.at, path.tops))
    before = np.roll(np.arange(len(path.tops)), 1)
    return _Meeting(
        now=path.keys != FREE,
        was=under != FREE,
        stays=under == path.keys,
        ways=path.at - at,
        near=path.near[path.keys, before],
        held=(under != FREE).sum(axis=0),
        tops=(tops, path.tops),
    )


def _terms(met: _Meeting, role: str, sound: str) -> dict[str, Ints]:
    both = met.was & met.now
    landing, shared, holds = (fingers.sum(axis=0) for fingers in (met.now, both, both & met.stays))
    common = (met.now & (met.near == 0)).sum(axis=0) * (met.held > 0)
    slides = shared - holds
    terms = {
        "travel": _travel(met),
        "strike": _grains("strike", slides),
        "landing": _grains("landing", landing - shared),
        "lift": _grains("lift", met.held - shared),
        "refinger": _grains("refinger", common - holds),
    }
    if LEGATO[sound]:
        terms["legato"] = slides * np.int32(grains("legato", LEGATO[sound]))
    if role == TUNE:
        was, now = met.tops
        leaps = np.abs(was - now) * ((was > 0) & (now > 0))
        terms["leap"] = _grains("leap", np.maximum(0, leaps - FREE_LEAP))
        terms["voices"] = _grains("voices", met.near.sum(axis=0))
    return terms


def _travel(met: _Meeting) -> Ints:
    """Return the cheapest sum of the arm's way and of each finger's way beside it.

    The arm stays, or goes as far as one of the fingers, playing or resting, would. A finger that was free goes from
    where it rested, its aim costing half: it needs no leaving. A hand that rested is anywhere.
    """
    weights = met.now * (met.was + np.int32(1)) * (met.held > 0)
    landing = len(weights)
    arms = _BITS.take(met.ways)
    best = (arms[:landing] * weights).sum(axis=0)
    arms *= 2
    for one, two in combinations(range(len(arms)), 2):
        if one < landing:
            apart = _BITS.take(met.ways[one] - met.ways[two])
            arms[two] += apart * weights[one]
            if two < landing:
                arms[one] += apart * weights[two]
    best = np.minimum(best, arms.min(axis=0))
    # `best` is in grains, doubled for the halves.
    total: Ints = np.rint(best * (WEIGHTS["travel"].value / 2)).astype(np.int32)
    return total


def _grains(term: str, amounts: Ints | NDArray[np.bool_]) -> Ints:
    whole: Ints = amounts * np.int32(grains(term, 1))
    return whole
