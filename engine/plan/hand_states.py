"""The grips of one hand as arrays, so that the planner can weigh all shifts between two chords at once."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.hand.grip import Grip, finger_places
from engine.hand.keyboard import OCTAVE
from engine.voicing.stack import Keys

Ints = NDArray[np.int32]

FREE = 128
"""Stands for the key of a finger that holds none."""

_HALF = (1 << 64) - 1
"""The keys 0 to 63: a keyboard needs two numbers of 64 bits."""


@dataclass(frozen=True, slots=True, eq=False)
class HandStates:
    """The n different grips of one hand, as arrays that can be paired off or crossed.

    `keys`: n x 5, the key under each finger, thumb first, `FREE` for none. `at`: n x 5, where each finger is in half
    millimetres, on its key or at rest, 0 in a resting hand. `near`: n x 129, semitones from each key to the nearest
    one held, 0 for `FREE` and in a resting hand. `low`, `high`: n, the keys held as bits, from key 0 and from key 64.
    `tops`: n, MIDI numbers, 0 for a resting hand.
    """

    keys: Ints
    at: Ints
    near: Ints
    low: NDArray[np.uint64]
    high: NDArray[np.uint64]
    tops: Ints

    def rows(self) -> "HandStates":
        """Return the grips as rows, to be crossed with `columns`."""
        return self._at((slice(None), None))

    def columns(self) -> "HandStates":
        """Return the grips as columns, to be crossed with `rows`."""
        return self._at((None, slice(None)))

    def pick(self, numbers: Sequence[int]) -> "HandStates":
        """Return some of the grips, in the order given."""
        return self._at(list(numbers))

    def grip(self, number: int) -> Grip:
        """Return one grip, keys ascending."""
        held = sorted((int(key), finger) for finger, key in enumerate(self.keys[number], start=1) if key != FREE)
        return Grip(tuple(key for key, _ in held), tuple(finger for _, finger in held))

    def _at(self, where: Any) -> "HandStates":
        return HandStates(*(getattr(self, name)[where] for name in HandStates.__slots__))


def hand_states(held: Sequence[Grip], hand: str) -> HandStates:
    """Lay out grips as arrays."""
    # A grip lies the same in every octave: what is known of the lowest one is moved up.
    octaves = np.array([grip.keys[0] // 12 if grip.keys else 0 for grip in held], dtype=np.int32)[:, None]
    lowest = [_lowest(grip.keys, grip.fingers, hand) for grip in held]
    lying = np.array([keys for keys, _ in lowest], dtype=np.int32)
    keys = np.where(lying == FREE, FREE, lying + 12 * octaves)
    bits = [sum(1 << key for key in grip.keys) for grip in held]
    return HandStates(
        keys=keys,
        at=np.array([at for _, at in lowest], dtype=np.int32) + round(2 * OCTAVE) * octaves,
        near=_near(keys),
        low=np.array([mask & _HALF for mask in bits], dtype=np.uint64),
        high=np.array([mask >> 64 for mask in bits], dtype=np.uint64),
        tops=np.array([grip.keys[-1] if grip.keys else 0 for grip in held], dtype=np.int32),
    )


def _lowest(keys: Keys, fingers: tuple[int, ...], hand: str) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return the key under each finger and where each finger is, in half millimetres, down in the lowest octave."""
    down = keys[0] // 12 * 12 if keys else 0
    return _laid_out(tuple(key - down for key in keys), fingers, hand)


@lru_cache(maxsize=65536)
def _laid_out(keys: Keys, fingers: tuple[int, ...], hand: str) -> tuple[tuple[int, ...], tuple[int, ...]]:
    held = dict(zip(fingers, keys, strict=True))
    at = tuple(round(2 * place) for place in finger_places(Grip(keys, fingers), hand)) if held else (0,) * 5
    return tuple(held.get(finger, FREE) for finger in range(1, 6)), at


def _near(keys: Ints) -> Ints:
    """Return for each grip the semitones from every key to the nearest one held, 0 where none is."""
    apart = np.abs(np.arange(FREE)[None, :] - np.where(keys == FREE, -FREE, keys)[:, :, None]).min(axis=1)
    near = np.zeros((len(keys), FREE + 1), dtype=np.int32)
    near[:, :FREE] = np.where(apart < FREE, apart, 0)
    return near
