"""Meters: how many beats a bar has and how long a beat is.

A beat is what the foot taps: the quarter in 4/4, the half in 2/2, the dotted quarter in 6/8, 9/8 and 12/8, the eighth
in 5/8 and 7/8. Everything in the engine counts beats; quarters come in only for tempo and for notation.
"""

import re
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Meter:
    """A written meter, such as 6/8: `upper` = 6, `lower` = 8."""

    upper: int
    lower: int

    @property
    def compound(self) -> bool:
        """True for 6/8, 9/8, 12/8 (and 6/16 ...): beats of three."""
        return self.lower >= 8 and self.upper % 3 == 0 and self.upper > 3

    @property
    def beats(self) -> int:
        """Beats in a bar."""
        return self.upper // 3 if self.compound else self.upper

    @property
    def beat_quarters(self) -> Fraction:
        """Length of a beat in quarter notes."""
        return Fraction(4 * (3 if self.compound else 1), self.lower)

    @property
    def bar_quarters(self) -> Fraction:
        """Length of a bar in quarter notes."""
        return Fraction(4 * self.upper, self.lower)

    def push(self, feel: str) -> Fraction:
        """Return the beats by which a pushed chord comes early: an eighth, in swing the last third of the beat.

        Source: common practice.
        """
        return Fraction(1, 3) if self.compound or feel == "swing" else 1 / (2 * self.beat_quarters)

    def beat_seconds(self, tempo: float) -> float:
        """Return the seconds of one beat: `tempo` counts quarters a minute, dotted quarters in compound meters."""
        return 60 / tempo * (1.0 if self.compound else float(self.beat_quarters))

    def __str__(self) -> str:
        return f"{self.upper}/{self.lower}"


def meter(text: str) -> Meter:
    """Read `4/4`, `6/8`, `7/8`.

    Raises:
        ValueError: not a meter with 1 to 32 beats over 1, 2, 4, 8 or 16.
    """
    found = re.fullmatch(r"\s*(\d{1,2})\s*/\s*(\d{1,2})\s*", text)
    if not found or not 1 <= int(found[1]) <= 32 or int(found[2]) not in (1, 2, 4, 8, 16):
        raise ValueError(f"{text.strip()[:20]} is no meter, write it as 4/4, 3/4 or 6/8")
    return Meter(int(found[1]), int(found[2]))


def shared_evenly(count: int, beats: Fraction | int) -> bool:
    """Return whether so many chords share a bar without slashes: alone, in whole beats, or in halves of each beat."""
    return count == 1 or Fraction(beats, count).denominator == 1 or count == beats * 2


def beats_figure(beats: Fraction) -> str:
    """Return beats as a figure to be read: 3, 2.5, 1.333."""
    return str(beats) if beats.denominator == 1 else f"{float(beats):.4g}"
