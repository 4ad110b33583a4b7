"""Beams over the eighths of a pulse.

Source: MusicXML 4.0 (W3C), <beam>; that a beam keeps to its pulse is common practice.
"""

from collections.abc import Iterator
from fractions import Fraction
from itertools import groupby
from xml.etree.ElementTree import Element

from engine.formats.musicxml_out.measures import Measure
from engine.theory.pulses import in_pulses, pulses


def add_beams(element: Element, measure: Measure, divisions: int) -> None:
    """Join the eighths of a written measure that follow one another within a pulse, each staff on its own."""
    first = measure.steps[0].step
    parts = pulses(first.meter)

    def pulse(place: Fraction) -> int:
        return int(in_pulses(first.beat - 1 + place / divisions / first.meter.beat_quarters, parts))

    for (_, _, joined), run in groupby(_notes(element), lambda one: (one[0], pulse(one[1]), _flagged(one[2]))):
        notes = [note for _, _, note in run]
        if joined and len(notes) > 1:
            for note, way in zip(notes, ("begin", *["continue"] * (len(notes) - 2), "end"), strict=True):
                _beam(note, way)


def _notes(element: Element) -> Iterator[tuple[str, Fraction, Element]]:
    """Yield notes and rests, of a chord the first: staff, place in the measure in divisions, note."""
    at = Fraction(0)
    for item in element:
        if item.tag == "backup":
            at -= int(item.findtext("duration", "0"))
        elif item.tag == "note" and item.find("chord") is None:
            yield item.findtext("staff", ""), at, item
            at += int(item.findtext("duration", "0"))


def _flagged(note: Element) -> bool:
    """Return whether a note is an eighth with a stem, and of no tuplet."""
    plain = note.find("rest") is None and note.findtext("stem") != "none" and note.find("time-modification") is None
    return plain and note.findtext("type") == "eighth"


def _beam(note: Element, way: str) -> None:
    """Put a beam where the schema wants it: after the staff, before the notations."""
    found = Element("beam", {"number": "1"})
    found.text = way
    after = note.find("notations")
    note.insert(list(note).index(after) if after is not None else len(note), found)
