"""How little a chord has to move to become another: the size of the smallest voice leading between pitch-class sets.

Source: Dmitri Tymoczko, The Geometry of Chords, Science 313 (2006), pages 72-74 and its supplement: sizes are taxicab
sizes, the semitones of all voices added up; a smallest voice leading never needs voices to cross.
"""

from collections.abc import Iterable
from functools import lru_cache


def one_to_one(before: Iterable[int], after: Iterable[int]) -> int:
    """Return the semitones of the smallest voice leading in which each note goes to one note of its own.

    Args:
        before: pitch classes or keys; octaves and order count for nothing, repeats count as voices.
        after: as many.

    Raises:
        ValueError: the two have different numbers of notes.
    """
    low, high = _sorted(before), _sorted(after)
    if len(low) != len(high):
        raise ValueError(f"{len(low)} notes cannot go one to one to {len(high)}")
    return _rotations(low, high)


def with_doublings(before: Iterable[int], after: Iterable[int]) -> int:
    """Return the semitones of the smallest voice leading that leaves every note and reaches every note, where notes may
    part and meet: no hand can get from one chord to the other with less.

    Args:
        before: pitch classes or keys; octaves, order and repeats count for nothing.
        after: any number of them.

    Returns:
        0 when one of the two is silent.
    """
    low, high = tuple(sorted(set(_sorted(before)))), tuple(sorted(set(_sorted(after))))
    return _partings(low, high) if low and high else 0


def _sorted(notes: Iterable[int]) -> tuple[int, ...]:
    return tuple(sorted(note % 12 for note in notes))


def distance(low: int, high: int) -> int:
    """Return the semitones between two pitch classes, the shorter way round the octave."""
    return min((low - high) % 12, (high - low) % 12)


@lru_cache(maxsize=16384)
def _rotations(low: tuple[int, ...], high: tuple[int, ...]) -> int:
    # Without crossings the voices keep their order round the octave, so only as many ways are left as there are notes.
    turns = (high[turn:] + high[:turn] for turn in range(len(high)))
    return min((sum(map(distance, low, turn)) for turn in turns), default=0)


@lru_cache(maxsize=16384)
def _partings(low: tuple[int, ...], high: tuple[int, ...]) -> int:
    # The first note goes to some note of the other chord; from that pair on both go round until they are back there.
    return min(_round(low, high[turn:] + high[:turn]) for turn in range(len(high)))


def _round(low: tuple[int, ...], high: tuple[int, ...]) -> int:
    """Return the least sum over pairings that start with the two first notes and go round both chords without crossing.

    Both advance, or one of them does while the other is doubled: cost |low| x |high|.
    """
    width, end = (*high, high[0]), len(low)
    row = [0] * len(width)
    for number, note in enumerate((*low, low[0])):
        above, row = row, [0] * len(width)
        for place, target in enumerate(width):
            ways = []
            if number:
                ways.append(above[place])
            if place:
                ways.append(row[place - 1])
            if number and place:
                ways.append(above[place - 1])
            # The closing pair is the first one again and is not paid twice.
            step = 0 if (number, place) == (end, len(high)) else distance(note, target)
            row[place] = step + min(ways, default=0)
    return row[-1]
