"""Putting pitch classes on keys: the nearest above one another, in every inversion, anywhere in a register."""

from collections.abc import Iterable
from functools import lru_cache

Keys = tuple[int, ...]


def places(pc: int, within: tuple[int, int]) -> range:
    """Return the keys of a pitch class inside a register, low to high."""
    low, high = within
    return range(low + (pc - low) % 12, high + 1, 12)


def upward(first: int, pcs: Iterable[int]) -> Keys:
    """Return `first` and pitch classes stacked on it in the order given, each the nearest above the one before."""
    keys = [first]
    for pc in pcs:
        keys.append(keys[-1] + ((pc - keys[-1]) % 12 or 12))
    return tuple(keys)


@lru_cache(maxsize=4096)
def close(pcs: tuple[int, ...], within: tuple[int, int]) -> tuple[Keys, ...]:
    """Return every inversion in close position that fits a register: all notes within an octave, none twice."""
    distinct = sorted(set(pcs))
    turns = (tuple(distinct[turn:] + distinct[:turn]) for turn in range(len(distinct)))
    return tuple(keys for turned in turns for keys in ordered(turned, within))


@lru_cache(maxsize=4096)
def ordered(pcs: tuple[int, ...], within: tuple[int, int]) -> tuple[Keys, ...]:
    """Return a stack in the order given, low to high, at every octave where it fits a register."""
    stacks = (upward(first, pcs[1:]) for first in places(pcs[0], within))
    return tuple(keys for keys in stacks if keys[-1] <= within[1])
