"""The grips of one hand as arrays, so that the planner can weigh all shifts between two chords at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.hand.fingering import FREE, Ints, Numbers
from engine.hand.grip import APART, RIGHT, Grip
from engine.hand.keyboard import OCTAVE, place

_HALVES = np.array([round(2 * place(key)) for key in range(64)])
"""Half millimetres by key, for keys in the lowest octaves."""


FEW = 2
"""Keys up to which grips are weighed by themselves: fingers that hold nothing need no look."""


@dataclass(frozen=True, slots=True, eq=False)
class Landing:
    """The m grips with few keys, or with more, at most k; `numbers` of them. `fingers`: 5 x m, 0 the thumb, those
    with a key first. `keys`: k x m, `at`: 5 x m, as in `HandStates`, of those fingers."""

    numbers: Numbers
    fingers: Numbers
    keys: Ints
    at: Numbers


@dataclass(frozen=True, slots=True, eq=False)
class HandStates:
    """The n different grips of one hand, fingers first, where numpy adds up quickest.

    `keys`: 5 x n, the key under each finger, thumb first, `FREE` for none. `at`: 5 x n, where each finger is in half
    millimetres, on its key or at rest, 0 in a resting hand. `near`: 129 x n, semitones from each key to the nearest
    one held, 0 for `FREE` and in a resting hand. `tops`: n, MIDI numbers, 0 for a resting hand. `landings`: the same
    grips, those with few keys and those with more.
    """

    keys: Ints
    at: Numbers
    near: Ints
    tops: Ints
    landings: tuple[Landing, ...]

    def grip(self, number: int) -> Grip:
        """Return one grip, keys ascending."""
        held = sorted((key, finger) for finger, key in enumerate(self.keys[:, number].tolist(), start=1) if key != FREE)
        return Grip(tuple(key for key, _ in held), tuple(finger for _, finger in held))

    def part(self, begin: int, end: int) -> "HandStates":
        """Return the grips from one number up to another."""
        keys, at = self.keys[:, begin:end], self.at[:, begin:end]
        return HandStates(keys, at, self.near[:, begin:end], self.tops[begin:end], _landings(keys, at))


def hand_states(keys: Ints, hand: str) -> HandStates:
    """Return grips with all that is asked of them. `keys`: 5 x n, the key under each finger, `FREE` for none."""
    at = _at(keys, hand)
    tops = np.where(keys == FREE, 0, keys).max(axis=0)
    return HandStates(keys, at, _near(keys), tops, _landings(keys, at))


def laid_out(grips: Sequence[Grip]) -> Ints:
    """Return the key under each finger of some grips: 5 x n."""
    keys = np.full((5, len(grips)), FREE, dtype=np.int32)
    for number, grip in enumerate(grips):
        keys[[finger - 1 for finger in grip.fingers], number] = grip.keys
    return keys


def _at(keys: Ints, hand: str) -> Numbers:
    """Return where each finger is in half millimetres (see `finger_places`)."""
    held = keys != FREE
    # A grip lies the same in every octave: it is laid out in the lowest one and moved up.
    octaves = np.where(held.any(axis=0), keys.min(axis=0) // 12, 0)
    lowest = np.where(held, keys - 12 * octaves, 0)
    side = (2 * APART if hand == RIGHT else -2 * APART) * np.arange(-2, 3)[:, None]
    count = np.maximum(1, held.sum(axis=0))
    middle = ((2 * _FLAT[lowest] - side) * held).sum(axis=0) / count
    at = np.where(held, _HALVES[lowest], np.rint(middle + side).astype(np.intp)) + round(2 * OCTAVE) * octaves
    resting: Numbers = at * held.any(axis=0)
    return resting


_FLAT = np.array([place(key) for key in range(64)])


def _near(keys: Ints) -> Ints:
    """Return for each grip the semitones from every key to the nearest one held, 0 where none is."""
    apart = np.abs(np.arange(FREE)[:, None, None] - np.where(keys == FREE, -FREE, keys)).min(axis=1)
    near = np.zeros((FREE + 1, keys.shape[1]), dtype=np.int32)
    near[:FREE] = np.where(apart < FREE, apart, 0)
    return near


def _landings(keys: Ints, at: Numbers) -> tuple[Landing, ...]:
    held = keys != FREE
    count = held.sum(axis=0)
    found = []
    for few in (True, False):
        numbers = np.flatnonzero((count <= FEW) == few)
        if len(numbers):
            fingers = np.argsort(~held[:, numbers], axis=0, kind="stable")
            most = int(count[numbers].max())
            found.append(Landing(numbers, fingers, keys[fingers[:most], numbers], at[fingers, numbers]))
    return tuple(found)
