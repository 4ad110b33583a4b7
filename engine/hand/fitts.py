"""How hard it is to hit a target: the index of difficulty that every time of a shift is made of."""

from math import log2


def bits(way: float, width: float) -> float:
    """Return the bits of going `way` onto a target of `width`, both in millimetres; 0.0 where it is reached already.

    Source: Fitts, "The information capacity of the human motor system in controlling the amplitude of movement",
    Journal of Experimental Psychology 47 (1954): log2(2D/W). Half a width is within the target, and nothing.
    """
    return log2(2 * way / width) if 2 * way > width else 0.0
