"""A shift as the hands know it, wherever in the set it stands."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from engine.hand.grip import Grip
from engine.planning.model import PlannedNote, PlannedStep

NAMES = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")
"""Pitch class -> its name in a shift's sign, whatever the song calls it. Logs keep the signs: these never change."""

Hands = tuple[Grip, Grip]
"""The grips of the left and of the right hand."""


@dataclass(frozen=True, slots=True)
class Shift:
    """From one pair of grips to the next: keys and fingers of both hands. Equal shifts are one and the same thing to
    practise, whatever the chords are called and wherever they stand."""

    before: Hands
    after: Hands

    @property
    def sign(self) -> str:
        """The shift in one line, low to high, finger and key: `5F2 1C3 | 1Ab3 > 5Bb2 1F3 | 1Ab3`."""
        return " > ".join(" | ".join(_grip_sign(grip) for grip in hands) for hands in (self.before, self.after))

    @property
    def still(self) -> bool:
        """True when no finger does anything."""
        return self.before == self.after


@dataclass(frozen=True, slots=True)
class Meeting:
    """A place where a shift is met. `index` is the place in the plan of the chord it leads to, `before` of the one it
    leaves; the seam of a vamp leads back, its `index` comes before its `before`.

    `available` is in seconds at the song's `tempo` (in the song file's beats a minute); `song` counts from 0 in the
    list that was ranked.
    """

    song: int
    title: str
    section: str
    pass_: int
    bar: int
    beat: Fraction
    before: int
    index: int
    symbols: tuple[str, str]
    tempo: float
    available: float

    @property
    def seam(self) -> bool:
        """True for the way from a vamp's last chord back to its first."""
        return self.index < self.before

    @property
    def inside(self) -> bool:
        """True for a way from position to position of a left hand's pattern, or from note to note of the
        player's own tune, while the chord goes on."""
        return self.index == self.before


def hands_of(step: PlannedStep) -> Hands:
    """Return the grips of a planned step."""
    return _grip(step.left), _grip(step.right)


def leaving(step: PlannedStep) -> Hands:
    """Return the grips from which the next chord is reached: of a left hand's pattern the last position, of the
    player's own tune the last note."""
    return _grip(step.left_behind), _grip(step.right_behind)


def _grip(notes: Iterable[PlannedNote]) -> Grip:
    ordered = sorted((note.key, note.finger) for note in notes)
    return Grip(tuple(key for key, _ in ordered), tuple(finger for _, finger in ordered))


def _grip_sign(grip: Grip) -> str:
    return " ".join(f"{finger}{key_sign(key)}" for key, finger in zip(grip.keys, grip.fingers, strict=True)) or "-"


def key_sign(key: int) -> str:
    """Return a key's fixed name: 60 is C4."""
    return f"{NAMES[key % 12]}{key // 12 - 1}"
