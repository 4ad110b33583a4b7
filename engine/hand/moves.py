"""What each finger does from one grip to the next."""

from dataclasses import dataclass

from engine.hand.grip import Grip

HOLD, PRESS, SLIDE, REFINGER = "hold", "press", "slide", "refinger"


@dataclass(frozen=True, slots=True)
class Move:
    """`finger` comes to `key`; `left_from` is the key it left, None where it left none or stays."""

    finger: int
    key: int
    kind: str
    left_from: int | None


def moves(before: Grip, after: Grip) -> tuple[Move, ...]:
    """Return how each finger of `after` gets to its key, keys ascending.

    hold: same finger, same key. refinger: the key was held by another finger. slide: the finger was on another key.
    press: the finger was free.
    """
    return tuple(_move(before, finger, key) for finger, key in zip(after.fingers, after.keys, strict=True))


def lifted(before: Grip, after: Grip) -> tuple[tuple[int, int], ...]:
    """Return the (finger, key) of `before` that leave the keyboard, `after` having no use for them."""
    return tuple(
        (finger, key) for finger, key in zip(before.fingers, before.keys, strict=True) if finger not in after.fingers
    )


def _move(before: Grip, finger: int, key: int) -> Move:
    was = dict(zip(before.fingers, before.keys, strict=True)).get(finger)
    if was == key:
        return Move(finger, key, HOLD, key)
    if key in before.keys:
        return Move(finger, key, REFINGER, was)
    return Move(finger, key, PRESS if was is None else SLIDE, was)
