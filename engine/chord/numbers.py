"""Number charts: a chord by its degree in the key, in figures (1 6- 2-7 5/7) or Roman numerals (ii7 V7 Imaj7 V7/ii).

Source: common practice. Figures are major unless marked - or m; a figure after a slash is a bass counted in the key;
a Roman numeral after a slash makes a secondary dominant. Flats and sharps stand before the degree.
"""

import re

from engine.chord.model import Chord
from engine.errors import SymbolError
from engine.theory.key import degree_in_key, note_of_degree, read_key
from engine.theory.pitch import NoteName, plain_signs

_ROMAN = {"I": 1, "II": 2, "III": 3, "IV": 4, "V": 5, "VI": 6, "VII": 7}
_FIGURE = re.compile(r"([b#]*)([1-7])(?=\D|$|(?:69|5|6|7|9|11|13)(?!\d))(.*)")
_NUMERAL = re.compile(r"([b#]*)(VII|VI|V|IV|III|II|I|vii|vi|v|iv|iii|ii|i)(?![iIvV])(.*)")
_MINOR_SIXTH = -3
"""Fifths from the tonic of a minor key to where its relative major counts it, the sixth degree."""


def symbol_of_number(text: str, key: str, minor_tonic: int = 1) -> str:
    """Return the chord symbol that a number stands for in a key.

    `minor_tonic` says what the tonic of a minor key is called: 1, or 6 when the chart counts from the relative major.

    Raises:
        SymbolError: `text` is no number chord.
    """
    plain = plain_signs(text)
    tonic = _one(key, minor_tonic)
    return _figure(plain, tonic) or _numeral(plain, tonic) or _refuse(text)


def number_of(chord: Chord, key: str, minor_tonic: int = 1) -> str:
    """Return a chord as figures in a key: Em7/D in D is 2m7/1."""
    tonic = _one(key, minor_tonic)
    bass = f"/{degree_in_key(chord.bass, tonic)}" if chord.slash else ""
    return f"{degree_in_key(chord.root, tonic)}{chord.quality}{bass}"


def _one(key: str, minor_tonic: int) -> NoteName:
    """Return the note that the chart calls 1."""
    read = read_key(key)
    return read.tonic.up(_MINOR_SIXTH) if read.minor and minor_tonic == 6 else read.tonic


def _figure(text: str, tonic: NoteName) -> str | None:
    found = _FIGURE.fullmatch(text)
    if not found:
        return None
    root = note_of_degree(found[1], int(found[2]), tonic)
    rest, slash, bass = found[3].partition("/")
    under = _FIGURE.fullmatch(bass)
    if slash and (not under or under[3]):
        return f"{root}{found[3]}" if rest.endswith("6") and bass.startswith("9") else None
    return f"{root}{rest}" + (f"/{note_of_degree(under[1], int(under[2]), tonic)}" if under else "")


def _numeral(text: str, tonic: NoteName) -> str | None:
    found = _NUMERAL.fullmatch(text)
    if not found:
        return None
    rest, slash, under = found[3].partition("/")
    if slash and (over := _NUMERAL.fullmatch(under)) and not over[3]:
        tonic, slash = note_of_degree(over[1], _ROMAN[over[2].upper()], tonic), ""
    root = note_of_degree(found[1], _ROMAN[found[2].upper()], tonic)
    minor = "m" if found[2].islower() and not re.match(r"m(?!aj)|-|dim|o|°|ø", rest) else ""
    if minor and rest.startswith("maj"):
        rest = f"({rest})"
    if not slash or (rest.endswith("6") and under.startswith("9")):
        return f"{root}{minor}{rest}{slash}{under if slash else ''}"
    bass = _FIGURE.fullmatch(under)
    return f"{root}{minor}{rest}/{note_of_degree(bass[1], int(bass[2]), tonic)}" if bass and not bass[3] else None


def _refuse(text: str) -> str:
    raise SymbolError(text, 1, "no number chord: write 1 to 7 with its quality (2m7, 5/7) or a Roman numeral (ii7)")
