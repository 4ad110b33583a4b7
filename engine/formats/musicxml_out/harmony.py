"""A chord symbol as MusicXML writes it: root, kind, changed degrees, bass, and the words the player wrote."""

from functools import lru_cache
from xml.etree.ElementTree import Element, SubElement

from engine.chord.model import Chord
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
    SubElement(found, "kind", {"text": words_of(chord)}).text = kind
    if chord.slash:
        _note(SubElement(found, "bass"), "bass", chord.bass)
    for way, degree in changes:
        _degree(found, way, degree)
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


def _degree(parent: Element, way: str, degree: str) -> None:
    value, alter = number(degree)
    # The text of the kind says it already: printed as well, it would be read twice. Source: MusicXML 4.0, <degree>.
    found = SubElement(parent, "degree", {"print-object": "no"})
    SubElement(found, "degree-value").text = value
    SubElement(found, "degree-alter").text = str(0 if way == "subtract" else alter)
    SubElement(found, "degree-type").text = way


def _note(parent: Element, name: str, note: NoteName) -> None:
    SubElement(parent, f"{name}-step").text = note.letter
    if note.accidental:
        SubElement(parent, f"{name}-alter").text = str(note.accidental)
