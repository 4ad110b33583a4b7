"""The notes of a measure on the two staves of a keyboard, with fingering."""

import re
from collections.abc import Sequence
from fractions import Fraction
from xml.etree.ElementTree import Element, SubElement

from engine.formats.musicxml_out.lengths import Length, written
from engine.planning.model import PlannedNote

_PITCH = re.compile(r"([A-G])([#b]*)(-?\d+)")


def add_hand(measure: Element, notes: Sequence[PlannedNote], quarters: Fraction, staff: int, divisions: int) -> None:
    """Append a hand's chord, or its rest, that lasts so many quarters."""
    lengths = written(quarters)
    for number, length in enumerate(lengths):
        ties = [way for way, there in (("stop", number > 0), ("start", number + 1 < len(lengths))) if there]
        if not notes:
            _rest(measure, length, staff, divisions)
        for place, note in enumerate(notes):
            found = SubElement(measure, "note")
            if place:
                SubElement(found, "chord")
            _pitch(found, note.name)
            _value(found, length, ties, (staff, divisions))
            _notations(found, note, ties, fingered=number == 0)


def _rest(measure: Element, length: Length, staff: int, divisions: int) -> None:
    found = SubElement(measure, "note")
    SubElement(found, "rest")
    _value(found, length, [], (staff, divisions))


def _pitch(note: Element, name: str) -> None:
    letter, signs, octave = _PITCH.fullmatch(name).groups()  # type: ignore[union-attr]
    pitch = SubElement(note, "pitch")
    SubElement(pitch, "step").text = letter
    if signs:
        SubElement(pitch, "alter").text = str(signs.count("#") - signs.count("b"))
    SubElement(pitch, "octave").text = octave


def _value(note: Element, length: Length, ties: list[str], where: tuple[int, int]) -> None:
    """Append how long a note lasts, to which staff and voice it belongs and how it is drawn, in the schema's order."""
    staff, divisions = where
    SubElement(note, "duration").text = str(int(length.quarters * divisions))
    for way in ties:
        SubElement(note, "tie", {"type": way})
    SubElement(note, "voice").text = "1" if staff == 1 else "5"
    SubElement(note, "type").text = length.type
    for _ in range(length.dots):
        SubElement(note, "dot")
    if length.actual != length.normal:
        tuplet = SubElement(note, "time-modification")
        SubElement(tuplet, "actual-notes").text = str(length.actual)
        SubElement(tuplet, "normal-notes").text = str(length.normal)
    SubElement(note, "staff").text = str(staff)


def _notations(note: Element, played: PlannedNote, ties: list[str], fingered: bool) -> None:
    if not ties and not (fingered and played.finger):
        return
    found = SubElement(note, "notations")
    for way in ties:
        SubElement(found, "tied", {"type": way})
    if fingered and played.finger:
        SubElement(SubElement(found, "technical"), "fingering").text = str(played.finger)
