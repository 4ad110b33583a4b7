"""Lengths as notation writes them: note values, dots, tuplets, and ties where one value does not do."""

from dataclasses import dataclass
from fractions import Fraction

TYPES: dict[Fraction, str] = {
    Fraction(8): "breve", Fraction(4): "whole", Fraction(2): "half", Fraction(1): "quarter", Fraction(1, 2): "eighth",
    Fraction(1, 4): "16th", Fraction(1, 8): "32nd", Fraction(1, 16): "64th", Fraction(1, 32): "128th",
    Fraction(1, 64): "256th",
}  # fmt: skip
"""Quarters -> name of the note value."""

_VALUES = sorted(
    [(value * dotted, name, dots) for value, name in TYPES.items() for dotted, dots in ((Fraction(3, 2), 1), (1, 0))],
    reverse=True,
)


@dataclass(frozen=True, slots=True)
class Length:
    """One written note value: the `quarters` it lasts, name and dots; in a tuplet `actual` in the time of `normal`."""

    quarters: Fraction
    type: str
    dots: int = 0
    actual: int = 1
    normal: int = 1


def written(quarters: Fraction) -> tuple[Length, ...]:
    """Return the note values, tied together, that last so many quarters, the longest first.

    Raises:
        ValueError: nothing lasts 0 or less, nor is anything shorter than a 256th.
    """
    if quarters <= 0:
        raise ValueError(f"a length above 0, not {quarters}")
    odd = quarters.denominator
    while odd % 2 == 0:
        odd //= 2
    normal = 1
    while normal * 2 < odd:
        normal *= 2
    left, found = quarters * odd / normal, []
    while left > 0:
        value, name, dots = next((one for one in _VALUES if one[0] <= left), (Fraction(0), "", 0))
        if not value:
            raise ValueError(f"{quarters} quarters cannot be written")
        found.append(Length(value * normal / odd, name, dots, odd, normal))
        left -= value
    return tuple(found)
