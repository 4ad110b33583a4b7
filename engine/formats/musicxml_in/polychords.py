"""A chord over a chord (D over C7) read as the one chord that has the same tones: C13#11.

Source: MusicXML 4.0 (W3C), <harmony>: several roots with their kinds in one symbol stand one over the other.
"""

from collections.abc import Iterator
from xml.etree.ElementTree import Element

from engine.chord.formula import ORDER
from engine.chord.model import Chord
from engine.chord.quality import quality_of
from engine.chord.symbol import read_symbol
from engine.errors import SymbolError

_NAMES = {0: "1", 1: "b9", 2: "9", 3: "#9", 4: "3", 5: "11", 6: "#11", 7: "5", 8: "b13", 9: "13", 10: "b7", 11: "7"}
"""Semitones over the lower root -> what a tone of the upper chord is called there. Source: common practice."""
_SAME = {"#9": {"b3"}, "11": {"4"}, "#11": {"b5"}, "b13": {"#5"}, "13": {"bb7", "6"}}
"""Degree -> other degrees on the same key, which the lower chord may have already."""


def stories(element: Element) -> list[Element]:
    """Return each chord of a harmony as a harmony of its own, the upper one first."""
    found: list[Element] = []
    for child in element:
        if child.tag in ("root", "numeral", "function") or not found:
            found.append(Element("harmony"))
        found[-1].append(child)
    return [story for story in found if story.find("kind") is not None]


def as_one(upper: str, lower: str) -> str | None:
    """Return the symbol of the chord with the tones of both over the lower root, None where none has a name."""
    try:
        above, below = read_symbol(upper), read_symbol(lower)
    except SymbolError:
        return None
    if above is None or below is None or below.slash:
        return None
    degrees = _together(above, below)
    symbol = f"{below.root}{quality_of(degrees)}"
    try:
        chord = read_symbol(symbol)
    except SymbolError:
        return None
    return symbol if chord and chord.degrees == degrees else None


def _together(above: Chord, below: Chord) -> tuple[str, ...]:
    found = {*below.degrees, *_added(above, below)}
    if "13" in found and not found & {"b7", "7", "bb7"}:
        found = found - {"13"} | {"6"}
    return tuple(degree for degree in ORDER if degree in found)


def _added(above: Chord, below: Chord) -> Iterator[str]:
    for tone in above.tones:
        name = _NAMES[(tone.pc - below.root.pc) % 12]
        if not _SAME.get(name, set()) & set(below.degrees):
            yield name
