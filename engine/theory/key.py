"""Keys: a tonic with a mode, spelled so that people would write it."""

import re
from dataclasses import dataclass

from engine.theory.pitch import LETTERS, NoteName, note_name, spelled

MOST_ACCIDENTALS = 6
"""Sharps or flats that a key may have before its enharmonic twin is the sensible one. Source: common practice."""

MOST_SIGNS = 7
"""Sharps or flats that a key signature can have: one for each note."""

MAJOR_TONICS = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")
MINOR_TONICS = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B")
"""Pitch class -> tonic as bands name the key. Source: common practice, fewer accidentals, flats for six."""

_MINOR = {"m", "min", "mi", "-", "minor"}
_MAJOR = {"", "maj", "major"}


@dataclass(frozen=True, slots=True)
class Key:
    """A key such as Eb or Cm."""

    tonic: NoteName
    minor: bool = False

    @property
    def signature(self) -> int:
        """Sharps of the key signature, flats below zero."""
        return self.tonic.fifths - (3 if self.minor else 0)

    def up(self, fifths: int) -> "Key":
        """Return the key that lies `fifths` fifths further along the line."""
        return Key(self.tonic.up(fifths), self.minor)

    def __str__(self) -> str:
        return f"{self.tonic}{'m' if self.minor else ''}"


def read_key(text: str) -> Key:
    """Read `Eb`, `Cm`, `F#m`, `C minor`, `B♭ major`.

    Raises:
        ValueError: `text` is not a key.
    """
    found = re.fullmatch(r"\s*([A-G][#♯b♭]{0,2})\s*([a-z-]*)\s*", text)
    if not found or found[2] not in _MINOR | _MAJOR:
        raise ValueError(f"{text.strip()[:20]} is no key, write it as Eb, F# or Cm")
    return Key(note_name(found[1]), found[2] in _MINOR)


def sensible(key: Key, sharps: bool = False) -> Key:
    """Return the key as people write it: D# is Eb, Gbm is F#m; a key of six sharps or flats stays as it is written.

    With `sharps` a key beyond six becomes F# or D#m, not Gb or Ebm, where both would do.
    """
    signature = key.signature
    while signature > MOST_ACCIDENTALS or (signature == MOST_ACCIDENTALS and not sharps and key.tonic.fifths > 6):
        key, signature = key.up(-12), signature - 12
    while signature < -MOST_ACCIDENTALS:
        key, signature = key.up(12), signature + 12
    return key


def between(old: Key, new: Key) -> int:
    """Return the fifths that lead from a key to another one of the same mode, as written: from C to Eb -3.

    A change of mode is no transposition: minor counts from its relative major's place.
    """
    return new.signature - old.signature


def degree_in_key(name: NoteName, tonic: NoteName) -> str:
    """Return a note's degree counted in the major scale on `tonic`: Eb in C is b3."""
    distance = name.fifths - tonic.fifths
    signs = (distance + 1) // 7
    return ("#" * signs if signs > 0 else "b" * -signs) + str(distance * 4 % 7 + 1)


def degree_fifths(number: int) -> int:
    """Return the fifths from the tonic to a degree of the major scale, 1 to 7: 3 is 4, 4 is -1."""
    return (2 * number - 1) % 7 - 1


def note_of_degree(signs: str, number: int, tonic: NoteName) -> NoteName:
    """Return the note that `degree_in_key` calls so: b and 3 in C are Eb."""
    return tonic.up(degree_fifths(number) + 7 * (signs.count("#") - signs.count("b")))


def spelled_in_key(key: int, signature: int) -> str:
    """Spell a key (MIDI number) as music with so many sharps does, flats below zero: 56 is Ab3 in Eb, G#3 in E.

    The twelve names lie round the signature's own middle on the line of fifths; the tie falls to the sharp.
    """
    return spelled(key, spelled_name(key, signature))


def spelled_name(key: int, signature: int) -> NoteName:
    """Return the name of a key (MIDI number) as `spelled_in_key` spells it."""
    lowest = signature - 3
    return NoteName(lowest + (key * 7 - lowest) % 12)


def signature_accidental(letter: str, signature: int) -> int:
    """Return what a key signature does to a letter, in semitones: 1 sharpens it; beyond seven signs some get 2."""
    return (signature - LETTERS.index(letter) + 6) // 7
