"""A chord symbol as MusicXML writes it: root, kind, changed degrees, bass, and the words the player wrote."""

import re
from dataclasses import dataclass
from functools import lru_cache
from xml.etree.ElementTree import Element, SubElement

from engine.chord.model import Chord
from engine.chord.symbol import read_symbol
from engine.errors import SymbolError
from engine.theory.pitch import NoteName, plain_signs

KINDS: dict[str, str] = {
    "suspended-fourth": "1 4 5", "major": "1 3 5", "minor": "1 b3 5",
    "dominant": "1 3 5 b7", "major-seventh": "1 3 5 7", "minor-seventh": "1 b3 5 b7",
    "half-diminished": "1 b3 b5 b7", "diminished": "1 b3 b5", "diminished-seventh": "1 b3 b5 bb7",
    "augmented": "1 3 #5", "augmented-seventh": "1 3 #5 b7", "major-minor": "1 b3 5 7", "major-sixth": "1 3 5 6",
    "minor-sixth": "1 b3 5 6", "suspended-second": "1 5 9",
    "dominant-ninth": "1 3 5 b7 9", "major-ninth": "1 3 5 7 9", "minor-ninth": "1 b3 5 b7 9",
    "dominant-11th": "1 3 5 b7 9 11", "major-11th": "1 3 5 7 9 11", "minor-11th": "1 b3 5 b7 9 11",
    "dominant-13th": "1 3 5 b7 9 13", "major-13th": "1 3 5 7 9 13", "minor-13th": "1 b3 5 b7 9 11 13", "power": "1 5",
}  # fmt: skip
"""MusicXML kind -> degrees. Source: MusicXML 4.0, kind-value, with the degrees of common practice: a second is called
9, and the eleventh is left out of a thirteenth with a major third."""

_DEGREE = r"[b#]?(?:9|5|11|13)"
_TAIL = r"(?P<own>.*?)(?P<open>\()?(?P<sign>add|/|)(?P<tail>(?:" + _DEGREE + r",?){%d})(?(open)\))"
"""So many degrees at the end of a symbol, after add, a slash or nothing, in brackets or not."""

_ALTERED = {"4": ("4", 0), "bb7": ("7", -1), "b7": ("7", 0), "7": ("7", 1), "b3": ("3", -1)}
"""Degree -> number and alteration where the two are not plain to see: an added seventh counts from the minor one."""


def harmony(symbol: str, chord: Chord | None) -> Element:
    """Return the harmony element of a symbol; N.C. is a kind of its own."""
    found = Element("harmony")
    if chord is None:
        root = SubElement(found, "root")
        SubElement(root, "root-step", {"text": ""}).text = "C"
        SubElement(found, "kind", {"text": symbol or "N.C."}).text = "none"
        return found
    _note(SubElement(found, "root"), "root", chord.root)
    kind, changes = kind_of(chord.degrees)
    words = words_of(chord)
    told = _told_apart(words, kind, changes)
    SubElement(found, "kind", told.kind if told else {"text": words}).text = kind
    if chord.slash:
        _note(SubElement(found, "bass"), "bass", chord.bass)
    for way, degree in changes:
        _degree(found, way, degree, told)
    return found


def words_of(chord: Chord) -> str:
    """Return what is written between root and bass: m7b5."""
    words = plain_signs(chord.symbol)
    words = words.removeprefix(str(chord.root))
    return words.removesuffix(f"/{chord.bass}") if chord.slash else words


@lru_cache(maxsize=512)
def kind_of(degrees: tuple[str, ...]) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Return the kind nearest to a chord's degrees, and the changes that make it the chord: (alter, add or subtract;
    degree). Ties fall to the kind that stands first in the table."""
    found = [(kind, _changes(frozenset(named.split()), degrees)) for kind, named in KINDS.items()]
    return min(found, key=lambda one: len(one[1]))


def _changes(named: frozenset[str], degrees: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    extra = [degree for degree in degrees if degree not in named]
    lost = sorted(named - set(degrees), key=lambda degree: int(degree.lstrip("b#")))
    changes: list[tuple[str, str]] = []
    for degree in lost:
        other = next(
            (one for one in extra if number(one)[0] == number(degree)[0] and degree == number(degree)[0]), None
        )
        if other is not None:
            extra.remove(other)
        changes.append(("subtract", degree) if other is None else ("alter", other))
    return tuple(changes + [("add", degree) for degree in extra])


def number(degree: str) -> tuple[str, int]:
    """Return a degree's number and how it is altered, an added seventh counted from the minor one."""
    if degree in _ALTERED:
        return _ALTERED[degree]
    plain = degree.lstrip("b#")
    return plain, degree.count("#") - degree.count("b")


@dataclass(frozen=True, slots=True)
class _Apart:
    """A symbol whose changed degrees are told after the kind's own `words`, with a `sign` before them."""

    words: str
    sign: str = ""
    brackets: bool = False

    @property
    def kind(self) -> dict[str, str]:
        """The attributes of the kind."""
        return {"text": self.words} | ({"parentheses-degrees": "yes"} if self.brackets else {})


def _told_apart(words: str, kind: str, changes: tuple[tuple[str, str], ...]) -> _Apart | None:
    """Return how a symbol falls into kind and degrees, as 7b9 does, None where it does not, as 7sus4.

    So each is printed once, by engravers too that print every degree beside the kind's text.
    """
    found = re.fullmatch(_TAIL % len(changes), words)
    if found is None or not changes or any(way == "subtract" for way, _ in changes):
        return None
    own, open_, sign, tail = found.group("own", "open", "sign", "tail")
    if sorted(re.findall(_DEGREE, tail)) != sorted(degree for _, degree in changes) or not _is(own, kind):
        return None
    return _Apart(own, sign, bool(open_))


def _is(words: str, kind: str) -> bool:
    """Return whether words say a kind and no more."""
    try:
        chord = read_symbol(f"C{words}")
    except SymbolError:
        return False
    return chord is not None and not chord.slash and set(chord.degrees) == set(KINDS[kind].split())


def _degree(parent: Element, way: str, degree: str, told: _Apart | None) -> None:
    value, alter = number(degree)
    # Where the text of the kind says it already, it would be read twice. Source: MusicXML 4.0, <degree>.
    found = SubElement(parent, "degree", {} if told else {"print-object": "no"})
    slash = told is not None and told.sign == "/"
    SubElement(found, "degree-value", {"text": f"/{value}"} if slash else {}).text = value
    SubElement(found, "degree-alter").text = str(0 if way == "subtract" else alter)
    SubElement(found, "degree-type", {"text": told.sign.strip("/")} if told else {}).text = way


def _note(parent: Element, name: str, note: NoteName) -> None:
    SubElement(parent, f"{name}-step").text = note.letter
    if note.accidental:
        SubElement(parent, f"{name}-alter").text = str(note.accidental)
