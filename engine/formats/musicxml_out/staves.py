"""The notes of a measure on the two staves of a keyboard, with fingering."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from xml.etree.ElementTree import Element, SubElement

from engine.formats.musicxml_out.lengths import Length, written
from engine.planning.model import PlannedNote

_PITCH = re.compile(r"([A-G])([#b]*)(-?\d+)")


@dataclass(frozen=True, slots=True)
class Staff:
    """Where a hand is written: staff 1 above, 2 below, and the parts of a quarter that lengths count in."""

    number: int
    divisions: int


def add_hand(measure: Element, notes: Sequence[PlannedNote], quarters: Fraction, staff: Staff, mark: str = "") -> None:
    """Append a hand's chord, or its rest, that lasts so many quarters; a `mark` of the song is shown as a sign."""
    lengths = written(quarters)
    for number, length in enumerate(lengths):
        ties = [way for way, there in (("stop", number > 0), ("start", number + 1 < len(lengths))) if there]
        last = number + 1 == len(lengths)
        if not notes:
            _rest(measure, length, staff)
            _signs(measure[-1], mark if last else "", rest=True)
        for place, note in enumerate(notes):
            found = SubElement(measure, "note")
            if place:
                SubElement(found, "chord")
            _pitch(found, note.name)
            _value(found, length, ties, staff)
            _notations(found, note, ties, staff if number == 0 else None)
            _signs(found, mark if last and (not place or mark == "ring") else "", rest=False)


def _rest(measure: Element, length: Length, staff: Staff) -> None:
    found = SubElement(measure, "note")
    SubElement(found, "rest")
    _value(found, length, [], staff)


def _pitch(note: Element, name: str) -> None:
    letter, signs, octave = _PITCH.fullmatch(name).groups()  # type: ignore[union-attr]
    pitch = SubElement(note, "pitch")
    SubElement(pitch, "step").text = letter
    if signs:
        SubElement(pitch, "alter").text = str(signs.count("#") - signs.count("b"))
    SubElement(pitch, "octave").text = octave


def _value(note: Element, length: Length, ties: list[str], staff: Staff) -> None:
    """Append how long a note lasts, to which staff and voice it belongs and how it is drawn, in the schema's order."""
    SubElement(note, "duration").text = str(int(length.quarters * staff.divisions))
    for way in ties:
        SubElement(note, "tie", {"type": way})
    SubElement(note, "voice").text = "1" if staff.number == 1 else "5"
    SubElement(note, "type").text = length.type
    for _ in range(length.dots):
        SubElement(note, "dot")
    if length.actual != length.normal:
        tuplet = SubElement(note, "time-modification")
        SubElement(tuplet, "actual-notes").text = str(length.actual)
        SubElement(tuplet, "normal-notes").text = str(length.normal)
    SubElement(note, "staff").text = str(staff.number)


def _notations(note: Element, played: PlannedNote, ties: list[str], fingered: Staff | None) -> None:
    """Append ties, and the fingering on the side of its staff that is free: above the right hand, below the left."""
    for way in ties:
        SubElement(_notated(note), "tied", {"type": way})
    if fingered and played.finger:
        side = "above" if fingered.number == 1 else "below"
        technical = SubElement(_notated(note), "technical")
        SubElement(technical, "fingering", {"placement": side}).text = str(played.finger)


def _signs(note: Element, mark: str, rest: bool) -> None:
    """Append a mark as a standard sign: hold a fermata, stop a caesura, ring a tie into nothing."""
    if mark == "hold":
        SubElement(_notated(note), "fermata")
    elif mark == "stop":
        SubElement(SubElement(_notated(note), "articulations"), "caesura")
    elif mark == "ring" and not rest:
        SubElement(_notated(note), "tied", {"type": "let-ring"})


def _notated(note: Element) -> Element:
    found = note.find("notations")
    return found if found is not None else SubElement(note, "notations")
