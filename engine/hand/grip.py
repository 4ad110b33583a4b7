"""How a hand holds keys: which finger is on which, and where the fingers are."""

from dataclasses import dataclass

from engine.hand.keyboard import UNIT, place

LEFT, RIGHT = "left", "right"

APART = 2 * UNIT
"""Millimetres from a finger at rest to its neighbour: a white key (common practice: five fingers over five notes)."""


@dataclass(frozen=True, slots=True)
class Grip:
    """Keys of one hand, ascending MIDI numbers, with a finger (1 thumb to 5) each; both empty for a resting hand."""

    keys: tuple[int, ...]
    fingers: tuple[int, ...]


def finger_places(grip: Grip, hand: str) -> tuple[float, ...]:
    """Return where the five fingers are, thumb first, in millimetres: on their keys, or at rest a white key from
    their neighbours.

    NaN for all of a resting hand.
    """
    if not grip.keys:
        return (float("nan"),) * 5
    side = APART if hand == RIGHT else -APART
    held = {finger: place(key) for finger, key in zip(grip.fingers, grip.keys, strict=True)}
    middle = sum(at - side * (finger - 3) for finger, at in held.items()) / len(held)
    return tuple(held.get(finger, middle + side * (finger - 3)) for finger in range(1, 6))
