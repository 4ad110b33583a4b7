"""Putting pitch classes on keys: the nearest above one another, in every inversion, anywhere in a register."""

from collections.abc import Iterable, Iterator

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


def close(pcs: Iterable[int], within: tuple[int, int]) -> Iterator[Keys]:
    """Yield every inversion in close position that fits a register: all notes within an octave, none twice."""
    distinct = sorted(set(pcs))
    for bottom in distinct:
        above = sorted((pc for pc in distinct if pc != bottom), key=lambda pc: (pc - bottom) % 12)
        yield from ordered((bottom, *above), within)


def ordered(pcs: tuple[int, ...], within: tuple[int, int]) -> Iterator[Keys]:
    """Yield a stack in the order given, low to high, at every octave where it fits a register."""
    for first in places(pcs[0], within):
        keys = upward(first, pcs[1:])
        if keys[-1] <= within[1]:
            yield keys
