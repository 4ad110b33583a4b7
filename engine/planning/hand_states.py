"""The grips of one hand as arrays, so that the planner can weigh all shifts between two chords at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.hand.fingering import FREE, Ints, Numbers
from engine.hand.grip import APART, RIGHT, Grip
from engine.hand.keyboard import OCTAVE, place

_HALVES = np.array([round(2 * place(key)) for key in range(64)])
"""Half millimetres by key, for keys in the lowest octaves."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A left hand's way through a pattern over a chord, or a right hand's through its own tune after it: the keys of
    each stroke and the grip they are taken in, the chord's own first; `inner` grains is what it costs beyond its first
    grip; `leads_to` is the bass key that a walking line leads to, 0 for none."""

    strokes: tuple[tuple[tuple[int, ...], Grip], ...]
    inner: int
    leads_to: int = 0

    def arrives(self, key: int) -> bool:
        """Return whether what follows with this key lowest is what the figure leads to."""
        return self.leads_to in (0, key)

    @property
    def first(self) -> Grip:
        """The grip in which the chord begins."""
        return self.strokes[0][1]

    @property
    def last(self) -> Grip:
        """The grip in which it ends."""
        return self.strokes[-1][1]

    @property
    def bottom(self) -> int:
        """The lowest key struck."""
        return min(keys[0] for keys, _ in self.strokes if keys)

    @property
    def top(self) -> int:
        """The highest key struck."""
        return max(keys[-1] for keys, _ in self.strokes)


@dataclass(frozen=True, slots=True, eq=False)
class HandStates:
    """The n different grips of one hand, fingers first, where numpy adds up quickest.

    `keys`: 5 x n, the key under each finger, thumb first, `FREE` for none. `at`: 5 x n, where each finger is in half
    millimetres, on its key or at rest, 0 in a resting hand. `fingers`: 5 x n, 0 the thumb, those with a
    key first; `count`: n, how many have one. `near`: 129 x n, semitones from each key to the nearest one held, 0 for
    `FREE` and in a resting hand. `tops`: n, MIDI numbers, 0 for a resting hand.
    """

    keys: Ints
    at: Numbers
    fingers: Numbers
    count: Numbers
    near: Ints
    tops: Ints

    def grip(self, number: int) -> Grip:
        """Return one grip, keys ascending."""
        return grip_of(self.keys[:, number].tolist())

    def grips(self) -> list[Grip]:
        """Return all grips."""
        return [grip_of(under) for under in self.keys.T.tolist()]

    def part(self, begin: int, end: int) -> "HandStates":
        """Return the grips from one number up to another."""
        own = slice(begin, end)
        keys, at, fingers, near = self.keys[:, own], self.at[:, own], self.fingers[:, own], self.near[:, own]
        return HandStates(keys, at, fingers, self.count[own], near, self.tops[own])

    def __len__(self) -> int:
        return len(self.count)


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """The states of one hand: state n is the grip `held[n]` of `grips`, in the texture `textures[n]`; `of[n]` numbers
    the hand (texture and keys) that it fingers. A hand that plays a pattern, or its own tune, begins in `grips`:
    `figures` has one for each of them, and `ends` the grips in which they end.
    """

    grips: HandStates
    held: Numbers
    textures: Ints
    of: Numbers
    figures: tuple[Figure, ...] = ()
    ends: HandStates | None = None

    @property
    def leaving(self) -> HandStates:
        """The grips that the next chord is reached from."""
        return self.ends or self.grips

    def grip(self, state: int) -> Grip:
        """Return the grip of a state."""
        return self.grips.grip(int(self.held[state]))

    def figure(self, state: int) -> Figure | None:
        """Return the figure of a state, None where its grip is held."""
        return self.figures[int(self.held[state])] if self.figures else None

    def __len__(self) -> int:
        return len(self.held)


def grip_of(under: Sequence[int]) -> Grip:
    """Return the grip with a key under each finger, thumb first, `FREE` for none."""
    held = sorted((key, finger) for finger, key in enumerate(under, start=1) if key != FREE)
    return Grip(tuple(key for key, _ in held), tuple(finger for _, finger in held))


def under_fingers(grip: Grip) -> list[int]:
    """Return the key under each finger of a grip, thumb first, `FREE` for none."""
    keys = [FREE] * 5
    for key, finger in zip(grip.keys, grip.fingers, strict=True):
        keys[finger - 1] = key
    return keys


def states_of_grips(grips: Sequence[Grip], hand: str) -> HandStates:
    """Return grips of a hand with all that is asked of them."""
    under = np.array([under_fingers(grip) for grip in grips], dtype=np.int32)
    return hand_states(np.ascontiguousarray(under.T), hand)


def hand_states(keys: Ints, hand: str) -> HandStates:
    """Return grips with all that is asked of them. `keys`: 5 x n, the key under each finger, `FREE` for none."""
    held = keys != FREE
    tops = np.where(held, keys, 0).max(axis=0)
    fingers = np.argsort(~held, axis=0, kind="stable")
    return HandStates(keys, _at(keys, hand), fingers, held.sum(axis=0), _near(keys), tops)


def together(hands: Sequence[HandStates]) -> HandStates:
    """Return the grips of several as one."""
    return HandStates(
        keys=np.concatenate([one.keys for one in hands], axis=1),
        at=np.concatenate([one.at for one in hands], axis=1),
        fingers=np.concatenate([one.fingers for one in hands], axis=1),
        count=np.concatenate([one.count for one in hands]),
        near=np.concatenate([one.near for one in hands], axis=1),
        tops=np.concatenate([one.tops for one in hands]),
    )


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
    near = np.full((FREE + 1, keys.shape[1]), FREE, dtype=np.int32)
    every = np.arange(FREE, dtype=np.int32)[:, None]
    for under in np.where(keys == FREE, -FREE, keys):
        np.minimum(near[:FREE], np.abs(every - under), out=near[:FREE])
    near[near == FREE] = 0
    return near
