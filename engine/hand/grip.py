"""Which fingers take which keys: all the ways a hand can hold some keys, and how well each lies."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise

from engine.hand.keyboard import UNIT, black, place, span
from engine.hand.spans import limits

LEFT, RIGHT = "left", "right"

STRETCH, EASE_THUMB, EASE_FINGERS = 2.0, 1.0, 2.0
"""Points for each half white key beyond comfort, and beyond ease for pairs with and without the thumb. Source: rules
1 to 3 of Parncutt et al. 1997, as Balliauw et al. 2017 (see `spans`) apply them to the notes of a chord, in their
unit."""

THUMB_ON_BLACK, FIFTH_ON_BLACK = 1.0, 1.0
"""Points for thumb or little finger on a black key while another finger is on a white one. Source: Parncutt et al.
1997, rules 10 and 11 (1 point), common practice for chords."""

WEAK_PAIR = 0.5
"""Points for fourth and fifth, or third and fourth, as neighbours in a chord. Source: rules 6 and 7 of Parncutt et
al. 1997 give 1 point; halved here, since in a chord the arm helps (own choice)."""

KEPT = 4
"""Fingerings kept for the same keys: the ones that lie best, those much worse than the best left out."""

SLACK = 3.0
"""Points over the best fingering at which another one is not considered: no hand would choose it (own choice)."""


@dataclass(frozen=True, slots=True)
class Grip:
    """Keys of one hand, ascending MIDI numbers, with a finger (1 thumb to 5) each; both empty for a resting hand."""

    keys: tuple[int, ...]
    fingers: tuple[int, ...]


@lru_cache(maxsize=65536)
def grips(keys: tuple[int, ...], hand: str, reach: float) -> tuple[tuple[Grip, float], ...]:
    """Return the fingerings of `keys` (ascending) with their points of discomfort, best first; none out of reach."""
    if not keys:
        return ((Grip((), ()), 0.0),)
    if len(keys) > 5 or span(keys[0], keys[-1]) > reach:
        return ()
    octaves = keys[0] // 12 * 12
    lowest = tuple(key - octaves for key in keys)
    return tuple((Grip(keys, fingers), points) for fingers, points in _fingerings(lowest, hand, reach))


def fingered(
    keys: tuple[int, ...], fingers: tuple[int, ...], hand: str, reach: float
) -> tuple[tuple[Grip, float], ...]:
    """Return the one fingering that the player asks for, however it lies, with its points; none if no hand holds it."""
    order = fingers if hand == RIGHT else fingers[::-1]
    if len(fingers) != len(keys) or any(low >= high for low, high in pairwise(order)):
        return ()
    points = discomfort(keys, fingers, reach) if span(keys[0], keys[-1]) <= reach else None
    return () if points is None else ((Grip(keys, fingers), points),)


@lru_cache(maxsize=65536)
def _fingerings(keys: tuple[int, ...], hand: str, reach: float) -> tuple[tuple[tuple[int, ...], float], ...]:
    """Return the fingers and points of grips in the lowest octave: every other octave lies the same."""
    found = []
    for chosen in combinations(range(1, 6), len(keys)):
        fingers = chosen if hand == RIGHT else chosen[::-1]
        points = discomfort(keys, fingers, reach)
        if points is not None:
            found.append((points, fingers))
    found.sort()
    return tuple((fingers, points) for points, fingers in found[:KEPT] if points <= found[0][0] + SLACK)


def discomfort(keys: tuple[int, ...], fingers: tuple[int, ...], reach: float) -> float | None:
    """Return a grip's points of discomfort (0.0 lies by itself), None when a pair of fingers cannot span its keys."""
    points, last = 0.0, len(keys) - 1
    for low, low_finger in enumerate(fingers):
        for high in range(low + 1, last + 1):
            pair = _pair_points(low_finger, fingers[high], keys[low] % 12, keys[high] - keys[low], reach)
            if pair is None:
                return None
            # The rules are for neighbours, and for the stretch of the whole hand; of the other pairs only reach counts.
            if high == low + 1 or (low == 0 and high == last):
                points += pair
    return points + _black_points(keys, fingers) + _weak_points(fingers)


@lru_cache(maxsize=65536)
def _pair_points(one: int, two: int, pc: int, semitones: int, reach: float) -> float | None:
    """Return the points of two fingers, the lower key of pitch class `pc`, None when they cannot span the keys."""
    least, low_ease, high_ease, comfort, widest = limits(reach, min(one, two), max(one, two))
    apart = span(pc, pc + semitones)
    # Neighbouring keys may be nearer than half a white key where backs are narrow; a millimetre is no reason to refuse.
    if apart > widest + 0.5 or apart < UNIT * 0.7:
        return None
    ease = EASE_THUMB if 1 in (one, two) else EASE_FINGERS
    beyond = max(0.0, apart - comfort, least - apart) * STRETCH
    uneasy = max(0.0, apart - high_ease, low_ease - apart) * ease
    return (beyond + uneasy) / UNIT


def _black_points(keys: tuple[int, ...], fingers: tuple[int, ...]) -> float:
    ends = [
        black(key) * (THUMB_ON_BLACK if finger == 1 else FIFTH_ON_BLACK)
        for key, finger in zip(keys, fingers, strict=True)
        if finger in (1, 5)
    ]
    return sum(ends) if any(ends) and not all(map(black, keys)) else 0.0


def _weak_points(fingers: tuple[int, ...]) -> float:
    return WEAK_PAIR * (4 in fingers and 5 in fingers) + WEAK_PAIR * (3 in fingers and 4 in fingers)


def finger_places(grip: Grip, hand: str) -> tuple[float, ...]:
    """Return where the five fingers are, thumb first, in millimetres: on their keys, or at rest a white key from
    their neighbours.

    NaN for all of a resting hand.
    """
    if not grip.keys:
        return (float("nan"),) * 5
    side = 2 * UNIT if hand == RIGHT else -2 * UNIT
    held = {finger: place(key) for finger, key in zip(grip.fingers, grip.keys, strict=True)}
    middle = sum(at - side * (finger - 3) for finger, at in held.items()) / len(held)
    return tuple(held.get(finger, middle + side * (finger - 3)) for finger in range(1, 6))
