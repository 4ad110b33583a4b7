"""The ways of a right hand through its own tune while a chord lasts: which fingers, and what they cost.

A finger above those that hold the chord takes the next note where the hand reaches it; else the hand lets the chord go,
which the pedal or the rhythm sounds on, and plays the tune alone until the next one. Of all ways with the same first
and last fingers only the cheapest can be on a best plan. A few are kept, see `MOST_FIRST` and `MOST_WAYS`, so that a
better one may be missed.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from engine.hand.fingering import FREE, Fingerings, Ints, Numbers, fingerings
from engine.hand.grip import RIGHT, Grip
from engine.hand.keyboard import black
from engine.planning.hand_states import Figure, grip_of, hand_states
from engine.planning.left_hand.ways import Ways
from engine.planning.shift_costs import PATTERN, weighed
from engine.planning.weights import GRAIN, WEIGHTS

MOST_FIRST = 6
"""Fingerings of the chord under the tune that are considered, the best first (own choice)."""

MOST_WAYS = 12
"""Ways from each of the right hand's chords through the tune that are kept, the cheapest first (own choice)."""

AWKWARD = 1.0
"""Effort of one of what `crossing` counts (own choice)."""

_Under = tuple[int, ...]
"""The key under each finger, thumb first, `FREE` for none."""

_Layer = tuple[tuple[_Under, int], ...]
"""The ways to hold a note of the tune, each with its cost in grains."""


@dataclass(frozen=True, slots=True)
class _Start:
    """A fingering of a chord: whose it is, its points, the key under each finger, and what may follow it."""

    of: int
    points: float
    under: _Under
    layers: tuple[_Layer, ...]


def tune_ways(first: Fingerings, hands: Numbers, notes: tuple[int, ...], reach: float, sound: str) -> Ways:
    """Return the ways from each of some hands' chords through notes (MIDI numbers) that come after it.

    `first`: how the chords can be held; `hands`: the numbers, ascending, of those that are asked for.
    """
    starts = list(_starts(first, hands, notes, reach))
    cost = _Shifts(starts, sound)
    ways = {number: list[_Way]() for number in hands.tolist()}
    for start in starts:
        ways[start.of] += _through(start, cost)
    found = [way for own in ways.values() for way in sorted(own, key=lambda way: way[0])[:MOST_WAYS]]
    under = np.array([start.under for _, start, _, _ in found], dtype=np.int32).reshape(len(found), 5)
    points = np.array([points for points, *_ in found])
    of = np.array([start.of for _, start, _, _ in found], dtype=np.intp)
    return Ways(under, points, of, tuple(_figure(start, inner, way, notes) for _, start, inner, way in found))


def _starts(first: Fingerings, hands: Numbers, notes: tuple[int, ...], reach: float) -> Iterator[_Start]:
    begin, end = (np.searchsorted(first.of, hands, side=side) for side in ("left", "right"))
    for number, one, two in zip(hands.tolist(), begin.tolist(), end.tolist(), strict=True):
        for row in range(one, min(two, one + MOST_FIRST)):
            under = tuple(first.under[row].tolist())
            yield _Start(number, float(first.points[row]), under, _layers(under, notes, reach))


def _layers(under: _Under, notes: tuple[int, ...], reach: float) -> tuple[_Layer, ...]:
    """Return the ways to hold each note after a chord: with what is left of it, as long as that goes, then alone."""
    held = tuple(sorted(key for key in under if key != FREE))[:-1]
    found = []
    for note in notes:
        below = tuple(key for key in held if key < note)
        layer = _over(below, note, under, reach) if below == held else ()
        if not layer:
            held, layer = (), _over((), note, under, reach)
        found.append(layer)
    return tuple(found)


def _over(below: tuple[int, ...], note: int, under: _Under, reach: float) -> _Layer:
    """Return the ways to hold a note over keys that stay under the fingers they have."""
    return _kept(tuple(key if key in below else FREE for key in under), (*below, note), reach)


@lru_cache(maxsize=8192)
def _kept(stays: _Under, keys: tuple[int, ...], reach: float) -> _Layer:
    fixed = [finger for finger, key in enumerate(stays) if key != FREE]
    return tuple(each for each in _held(keys, reach) if all(each[0][at] == stays[at] for at in fixed))


@lru_cache(maxsize=8192)
def _held(keys: tuple[int, ...], reach: float) -> _Layer:
    if len(keys) > 5:
        return ()
    found = fingerings(np.array([[*keys, *[FREE] * (5 - len(keys))]], dtype=np.int32), RIGHT, reach)
    lying = np.rint(found.points * WEIGHTS["grip"].value * GRAIN).astype(np.intp).tolist()
    return tuple((tuple(under), cost) for under, cost in zip(found.under.tolist(), lying, strict=True))


_Way = tuple[float, _Start, int, tuple[_Under, ...]]
"""A way through the tune: its points with those of the chord, where it starts, its inner cost in grains, the fingers on
each note."""


class _Shifts:
    """What it costs to go from fingers to fingers, found at once for all that some ways may take."""

    def __init__(self, starts: Sequence[_Start], sound: str) -> None:
        steps = dict.fromkeys(
            (before, after)
            for start in starts
            for one, two in pairwise((((start.under, 0),), *start.layers))
            for before, _ in one
            for after, _ in two
        )
        grips = {under: number for number, under in enumerate(dict.fromkeys(one for step in steps for one in step))}
        states = hand_states(np.array(list(grips), dtype=np.int32).reshape(len(grips), 5).T.copy(), RIGHT)
        befores, afters = (np.array([grips[step[side]] for step in steps], dtype=np.intp) for side in (0, 1))
        costs: Ints = weighed(states, befores, afters, PATTERN, sound)
        self.costs = {
            step: round((cost + round(AWKWARD * GRAIN * crossing(*step))) * WEIGHTS["tune"].value)
            for step, cost in zip(steps, costs.tolist(), strict=True)
        }


def crossing(before: _Under, after: _Under) -> float:
    """Return how awkwardly a line's fingers go from one note to the next: 0 in their order, 1 for a thumb that goes
    under or that others go over and for the same finger on another key, 3 for any other crossing; 1 more for a thumb
    on a black key. Source: common practice, figures own choice."""
    (one, was), (two, now) = _top(before), _top(after)
    thumb = 1.0 if now == 0 and black(two) else 0.0
    if one in (two, FREE) or (was != now and (two > one) == (now > was)):
        return thumb
    if was == now:
        return thumb + 1.0
    under = now == 0 if two > one else was == 0
    return thumb + (1.0 if under else 3.0)


def _top(under: _Under) -> tuple[int, int]:
    """Return the highest key and its finger, 0 the thumb; `FREE` in a hand that rests."""
    held = [(key, finger) for finger, key in enumerate(under) if key != FREE]
    return max(held, default=(FREE, 0))


def _through(start: _Start, shifts: _Shifts) -> Iterator[_Way]:
    """Yield the cheapest way from a fingering of a chord to each way to hold the last note."""
    best: dict[_Under, tuple[int, tuple[_Under, ...]]] = {start.under: (0, ())}
    for layer in start.layers:
        best = {
            after: min(
                (cost + shifts.costs[before, after] + lying, (*way, after)) for before, (cost, way) in best.items()
            )
            for after, lying in layer
        }
    for inner, way in best.values():
        yield start.points + inner / (WEIGHTS["grip"].value * GRAIN), start, inner, way


def _figure(start: _Start, inner: int, way: tuple[_Under, ...], notes: tuple[int, ...]) -> Figure:
    grip = _grip(start.under)
    strokes = [((note,), _grip(under)) for note, under in zip(notes, way, strict=True)]
    return Figure(((grip.keys, grip), *strokes), inner)


@lru_cache(maxsize=8192)
def _grip(under: _Under) -> Grip:
    return grip_of(under)
