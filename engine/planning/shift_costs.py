"""What it costs one hand to go from one grip to another, for all pairs of grips at once.

The arm carries the hand, and each finger goes the rest of the way: of all the ways to share the distance between them
the cheapest counts. The same terms give whole matrices for planning and single shifts for explaining, all in whole
grains.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, combinations

import numpy as np
from numpy.typing import NDArray

from engine.hand.fingering import FREE, Ints, Numbers
from engine.hand.fitts import bits
from engine.hand.keyboard import OCTAVE
from engine.planning.hand_states import HandStates, Side, together
from engine.planning.weights import FREE_JUMP, FREE_LEAP, GRAIN, LEGATO, WEIGHTS, grains

SEMITONE = OCTAVE / 12
"""Millimetres: the width of a key as a finger aims at it, black and white alike."""

TUNE = "tune"
"""The hand whose top note is heard as a tune; it also pays for a change of texture, once for both hands."""

PATTERN = "pattern"
"""The hand that plays a pattern: how many keys it takes at a time goes with the pattern, and costs nothing."""

_LENGTH = 6400
"""Half millimetres, longer than a keyboard."""

_AHEAD = [round(bits(half / 2, SEMITONE) * GRAIN) for half in range(_LENGTH)]
_BITS = np.array(_AHEAD + _AHEAD[:0:-1], dtype=np.int32)
"""Grains of aiming by half millimetres, backwards by negative ones: a semitone is 1 bit, an octave 4.6."""


AT_ONCE = 8192
"""Shifts that are weighed together: as many as stay in a processor's near memory."""

WAYS_AT_ONCE = 64
"""Ways whose shifts are listed together: so memory does not grow with the song."""

MOST_KNOWN = 8192
"""Ways that are remembered, before all are forgotten (own choice)."""

Way = tuple[Side, Side, bool]
"""The states of one hand before and after, and whether the texture changes between them."""


def shifts(ways: Sequence[Way], role: str, sound: str) -> list[Ints]:
    """Return the cost of each shift of each way in grains, states before x states after: found at once, which is far
    quicker; `role` is `TUNE` for the hand on top."""
    known = _known(role, sound)
    if len(known) > MOST_KNOWN:
        known.clear()
    missing = [way for way in dict.fromkeys(ways) if way not in known]
    for begin in range(0, len(missing), WAYS_AT_ONCE):
        some = missing[begin : begin + WAYS_AT_ONCE]
        known.update(zip(some, _found(some, role, sound), strict=True))
    return [known[way] for way in ways]


@lru_cache(maxsize=16)
def _known(role: str, sound: str) -> dict[Way, Ints]:
    """Return what is remembered of one role with one sound."""
    return {}


def _found(ways: Sequence[Way], role: str, sound: str) -> list[Ints]:
    grips = list(dict.fromkeys(one for before, after, _ in ways for one in (before.leaving, after.grips)))
    ends = list(accumulate(map(len, grips)))
    numbers = {one: np.arange(end - len(one), end) for one, end in zip(grips, ends, strict=True)}
    pairs = [(numbers[before.leaving], numbers[after.grips]) for before, after, _ in ways]
    befores = np.concatenate([np.repeat(before, len(after)) for before, after in pairs])
    afters = np.concatenate([np.tile(after, len(before)) for before, after in pairs])
    costs = weighed(together(grips), befores, afters, role, sound)
    cuts = np.split(costs, list(accumulate(len(before) * len(after) for before, after in pairs))[:-1])
    return [_of_states(way, cut, role) for way, cut in zip(ways, cuts, strict=True)]


def weighed(hands: HandStates, before: Numbers, after: Numbers, role: str, sound: str) -> Ints:
    """Return the cost in grains of n shifts from grips to grips, given by their numbers."""
    costs = np.empty(len(before), dtype=np.int32)
    for some, terms in _weighed(hands, before, after, role, sound):
        costs[some] = sum(terms.values())
    return costs


def _of_states(way: Way, of_grips: Ints, role: str) -> Ints:
    """Return what shifts between grips cost as those between the states that hold them."""
    before, after, changes = way
    total: Ints = of_grips.reshape(len(before.grips), len(after.grips))[before.held[:, None], after.held]
    if role == TUNE and changes:
        total += np.int32(grains("change", 1))
    if role == PATTERN and before.figures:
        leads = np.array([figure.leads_to for figure in before.figures], dtype=np.int32)[before.held]
        lost = (leads > 0)[:, None] & (leads[:, None] != after.grips.keys.min(axis=0)[after.held])
        total += lost * np.int32(grains("lead", 1))
    return total


def shift_terms(path: HandStates, role: str, sound: str, leaving: HandStates | None = None) -> dict[str, Ints]:
    """Return the terms in grains of the shifts along a path: into each of its grips from the one before, and into
    the first from the last. `leaving`: the grips that the next are reached from, where they are others."""
    every = np.arange(len(path))
    found: dict[str, Ints] = {}
    both = together([leaving or path, path])
    for some, terms in _weighed(both, (every - 1) % len(path), every + len(path), role, sound):
        for name, amounts in terms.items():
            found.setdefault(name, np.zeros(len(path), dtype=np.int32))[some] = amounts
    return found


def _weighed(
    hands: HandStates, before: Numbers, after: Numbers, role: str, sound: str
) -> Iterator[tuple[Numbers, dict[str, Ints]]]:
    """Yield the numbers of some of the shifts from grips to grips, and their terms; `before`, `after`: n numbers of
    grips."""
    landing, rows = hands.count.take(after), _rows(hands)
    for keys in range(6):
        alike = np.flatnonzero(landing == keys)
        for begin in range(0, len(alike), AT_ONCE):
            some = alike[begin : begin + AT_ONCE]
            yield some, _terms(_meeting(hands, rows[: 10 + keys], before.take(some), after.take(some)), role, sound)


def _rows(hands: HandStates) -> Numbers:
    """Return for each grip, fingers that land first: where the row of each finger begins in a table of fingers x grips
    read as one long row, which is much quicker than by two numbers; where it is; and where the row of its key
    begins."""
    at, keys = (np.take_along_axis(table, hands.fingers, axis=0) for table in (hands.at, hands.keys))
    rows: Numbers = np.concatenate([hands.fingers * len(hands), at, keys.astype(np.intp) * len(hands)])
    return rows


@dataclass(frozen=True, slots=True, eq=False)
class _Meeting:
    """n shifts onto grips of as many keys: fingers that land first, in an order of their own.

    Of fingers that land, `was`: whether one held a key. `stays`: on the same key. `near`: semitones from its key to
    the nearest one held before. Of all five, `ways`: half millimetres it goes. `held`: how many keys were, `tops`:
    before and after.
    """

    was: NDArray[np.bool_]
    stays: NDArray[np.bool_]
    near: Ints
    ways: Numbers
    held: Numbers
    tops: tuple[Ints, Ints]


def _meeting(hands: HandStates, rows: Numbers, before: Numbers, after: Numbers) -> _Meeting:
    own = rows.take(after, axis=1)
    was, keys = own[:5] + before, own[10:]
    under = hands.keys.take(was[: len(keys)])
    return _Meeting(
        was=under != FREE,
        stays=under * np.int32(len(hands)) == keys,
        near=hands.near.take(keys + before),
        ways=own[5:10] - hands.at.take(was),
        held=hands.count.take(before),
        tops=(hands.tops.take(before), hands.tops.take(after)),
    )


def _terms(met: _Meeting, role: str, sound: str) -> dict[str, Ints]:
    shared, holds = met.was.sum(axis=0), met.stays.sum(axis=0)
    common = (met.near == 0).sum(axis=0) * (met.held > 0)
    slides = shared - holds
    terms = {
        "travel": _travel(met),
        "strike": _grains("strike", slides),
        "landing": _grains("landing", len(met.was) - shared),
        "lift": _grains("lift", met.held - shared),
        "refinger": _grains("refinger", common - holds),
    }
    if role != PATTERN:
        terms["count"] = _grains("count", np.abs(len(met.was) - met.held) * (met.held > 0) * (len(met.was) > 0))
    if LEGATO[sound]:
        terms["legato"] = slides * np.int32(grains("legato", LEGATO[sound]))
    if role == TUNE:
        was, now = met.tops
        leaps = np.abs(was - now) * ((was > 0) & (now > 0))
        terms["leap"] = _grains("leap", np.maximum(0, leaps - FREE_LEAP))
        terms["jump"] = _grains("jump", np.maximum(0, leaps - FREE_JUMP))
        terms["voices"] = _grains("voices", met.near.sum(axis=0))
    return terms


def _travel(met: _Meeting) -> Ints:
    """Return the cheapest sum of the arm's way and of each finger's way beside it.

    The arm stays, or goes as far as one of the fingers, playing or resting, would. A finger that was free goes from
    where it rested, its aim costing half: it needs no leaving.
    """
    weights = (met.was + np.int32(1)) * (met.held > 0)
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
