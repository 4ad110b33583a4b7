"""The notes of a measure on the two staves of a keyboard, with fingering and chord symbols."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from xml.etree.ElementTree import Element, SubElement

from engine.comp_names import HELD
from engine.formats.musicxml_out.directions import add_symbol, add_words
from engine.formats.musicxml_out.left_hand import Written, left_strokes
from engine.formats.musicxml_out.lengths import Length, written
from engine.formats.musicxml_out.measures import Measure
from engine.formats.musicxml_out.notes import add_sign, add_value, notated
from engine.formats.musicxml_out.right_hand import right_strokes
from engine.planning.model import PlannedNote

_PITCH = re.compile(r"([A-G])([#b]*)(-?\d+)")


@dataclass(frozen=True, slots=True)
class Staff:
    """Where a hand is written: staff 1 above, 2 below, and the parts of a quarter that lengths count in."""

    number: int
    divisions: int


def hand_lengths(measure: Measure) -> Iterator[Fraction]:
    """Yield the lengths in quarters of what is written of a measure: chords, rests, a left hand's strokes."""
    for one in measure.steps:
        yield from (quarters for _, quarters in right_strokes(one))
        yield from (quarters for _, quarters in left_strokes(one))


def add_hands(element: Element, measure: Measure, divisions: int) -> None:
    """Append both hands: the right one with the chord symbols, then back to the start, then the left one.

    Chords are written as long as they hold, the player's own tune note by note; a comping rhythm and a left hand's
    pattern are told by name, as players read them.
    """
    step = measure.steps[0].step
    for what, name in (("comp", step.comp), ("left hand", step.left_hand)):
        if measure.first and name not in ("", HELD):
            add_words(element, f"{what}: {name}")
    for one in measure.steps:
        add_symbol(element, one)
        _add_strokes(element, right_strokes(one), Staff(1, divisions), one.step.mark)
    SubElement(SubElement(element, "backup"), "duration").text = str(int(measure.quarters * divisions))
    for one in measure.steps:
        _add_strokes(element, left_strokes(one), Staff(2, divisions), one.step.mark)


def _add_strokes(element: Element, strokes: Sequence[Written], staff: Staff, mark: str) -> None:
    for number, (notes, quarters) in enumerate(strokes, 1):
        add_hand(element, notes, quarters, staff, mark if number == len(strokes) else "")


def add_hand(measure: Element, notes: Sequence[PlannedNote], quarters: Fraction, staff: Staff, mark: str = "") -> None:
    """Append a hand's chord, or its rest, that lasts so many quarters; a `mark` of the song is shown as a sign."""
    lengths = written(quarters)
    for number, length in enumerate(lengths):
        ties = [way for way, there in (("stop", number > 0), ("start", number + 1 < len(lengths))) if there]
        last = number + 1 == len(lengths)
        if not notes:
            _rest(measure, length, staff)
            add_sign(measure[-1], mark if last else "")
        for place, note in enumerate(notes):
            found = SubElement(measure, "note")
            if place:
                SubElement(found, "chord")
            _pitch(found, note.name)
            _value(found, length, ties, staff)
            _notations(found, note, ties, staff if number == 0 else None)
            add_sign(found, mark if last and (not place or mark == "ring") else "")


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
    """Append how long a note lasts and to which staff it belongs."""
    add_value(note, length, staff.divisions, "1" if staff.number == 1 else "5", ties)
    SubElement(note, "staff").text = str(staff.number)


def _notations(note: Element, played: PlannedNote, ties: list[str], fingered: Staff | None) -> None:
    """Append ties, and the fingering on the side of its staff that is free: above the right hand, below the left."""
    for way in ties:
        SubElement(notated(note), "tied", {"type": way})
    if fingered and played.finger:
        side = "above" if fingered.number == 1 else "below"
        technical = SubElement(notated(note), "technical")
        SubElement(technical, "fingering", {"placement": side}).text = str(played.finger)
