"""Note names as places on the line of fifths: spelling and transposing become addition.

... Bb -2, F -1, C 0, G 1, D 2, A 3, E 4, B 5, F# 6 ... A name knows its letter and accidental;
the octave belongs to a key (MIDI number, middle C = C4 = 60) and comes in only when a key is spelled.
"""

import re
from dataclasses import dataclass

LETTERS = "FCGDAEB"
NATURAL = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
"""Letter -> pitch class of its white key."""
_NAME = re.compile(r"([A-G])(#{0,3}|b{0,3})")
_PITCH = re.compile(r"([A-G](?:#{0,3}|b{0,3}))(-?\d)")


@dataclass(frozen=True, slots=True, order=True)
class NoteName:
    """A spelled note name without octave; `fifths` is its place on the line of fifths, C = 0."""

    fifths: int

    @property
    def letter(self) -> str:
        """A to G."""
        return LETTERS[(self.fifths + 1) % 7]

    @property
    def accidental(self) -> int:
        """Sharps above zero, flats below it."""
        return (self.fifths + 1) // 7

    @property
    def pc(self) -> int:
        """Pitch class, 0 = C to 11 = B."""
        return self.fifths * 7 % 12

    def up(self, fifths: int) -> "NoteName":
        """Return the name that lies `fifths` fifths further along the line."""
        return NoteName(self.fifths + fifths)

    def __str__(self) -> str:
        sign = "#" if self.accidental > 0 else "b"
        return self.letter + sign * abs(self.accidental)


def plain_signs(text: str) -> str:
    """Return a text with its flat and sharp signs as people type them: b and #."""
    return text.replace("♭", "b").replace("♯", "#")


def note_name(text: str) -> NoteName:
    """Read an English note name such as `Eb`, `F#`, `B♭`.

    Raises:
        ValueError: `text` is not a note name.
    """
    found = _NAME.fullmatch(plain_signs(text))
    if not found:
        raise ValueError(f"not a note name: {text!r}")
    letter, signs = found.groups()
    shift = len(signs) if signs[:1] == "#" else -len(signs)
    return NoteName(LETTERS.index(letter) - 1 + 7 * shift)


def spelled(key: int, name: NoteName) -> str:
    """Spell a key (MIDI number) with `name`: (59, Cb) gives `Cb4`, (60, C) gives `C4`.

    Raises:
        ValueError: the name does not sound as that key.
    """
    if (key - name.pc) % 12:
        raise ValueError(f"{name} does not sound as key {key}")
    return f"{name}{(key - name.accidental) // 12 - 1}"


def key_number(text: str) -> int:
    """Return the MIDI number of a pitch such as `G3`, `Eb4` or `Cb4`.

    Raises:
        ValueError: `text` is not a note name with an octave.
    """
    found = _PITCH.fullmatch(plain_signs(text))
    if not found:
        raise ValueError(f"not a pitch: {text!r}")
    name = note_name(found[1])
    return NATURAL[name.letter] + name.accidental + 12 * (int(found[2]) + 1)
