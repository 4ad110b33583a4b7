"""What a chord symbol means: a root, its tones by degree, and the bass.

A symbol that asks for silence (`N.C.`) has no chord: wherever a chord may be absent the type is `Chord | None`.
"""

from dataclasses import dataclass

from engine.theory.pitch import NoteName

DEGREE_FIFTHS: dict[str, int] = {
    "1": 0, "b9": -5, "9": 2, "#9": 9, "b3": -3, "3": 4, "4": -1, "11": -1, "#11": 6, "b5": -6, "5": 1,
    "#5": 8, "b13": -4, "6": 3, "13": 3, "bb7": -9, "b7": -2, "7": 5,
}  # fmt: skip
"""Degree -> fifths above the root, by the letter rule of common-practice spelling. Order: as a chord is spoken."""


@dataclass(frozen=True, slots=True)
class Tone:
    """One tone of a chord: its degree above the root and its spelled name."""

    degree: str
    name: NoteName

    @property
    def pc(self) -> int:
        """Pitch class, 0 = C to 11 = B."""
        return self.name.pc


@dataclass(frozen=True, slots=True)
class Chord:
    """A chord as read from a symbol.

    `tones` starts with the root and ascends as chords are spoken (1 3 5 7 9 11 13); a slash bass outside the chord
    is in `bass` only. `symbol` is as written, `quality` the normal English spelling of what follows the root
    ("", "m7", "maj7", "m7b5", "7alt" ...), `reading` says in words how a doubtful symbol was taken, else None.
    """

    symbol: str
    root: NoteName
    bass: NoteName
    quality: str
    tones: tuple[Tone, ...]
    reading: str | None = None

    def __hash__(self) -> int:
        # The tones follow from these; planning looks chords up by the thousand.
        return hash((self.symbol, self.root.fifths, self.bass.fifths, self.quality))

    @property
    def degrees(self) -> tuple[str, ...]:
        """The degrees of the tones, in their order."""
        return tuple(tone.degree for tone in self.tones)

    @property
    def slash(self) -> bool:
        """True when a bass other than the root is written."""
        return self.bass != self.root

    def tone(self, *degrees: str) -> Tone | None:
        """Return the first tone whose degree is among `degrees`, in the order asked."""
        return next((tone for degree in degrees for tone in self.tones if tone.degree == degree), None)
