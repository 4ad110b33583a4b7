"""What all notes and rests are written with: how long they last, and the marks of chords as standard signs.

Source: MusicXML 4.0 (W3C), <note> and <notations>.
"""

from collections.abc import Iterable
from xml.etree.ElementTree import Element, SubElement

from engine.formats.musicxml_out.lengths import Length


def add_value(note: Element, length: Length, divisions: int, voice: str, ties: Iterable[str] = ()) -> None:
    """Append how long a note lasts, to which voice it belongs and how it is drawn, in the schema's order."""
    SubElement(note, "duration").text = str(int(length.quarters * divisions))
    for way in ties:
        SubElement(note, "tie", {"type": way})
    SubElement(note, "voice").text = voice
    SubElement(note, "type").text = length.type
    for _ in range(length.dots):
        SubElement(note, "dot")
    if length.actual != length.normal:
        tuplet = SubElement(note, "time-modification")
        SubElement(tuplet, "actual-notes").text = str(length.actual)
        SubElement(tuplet, "normal-notes").text = str(length.normal)


def add_sign(note: Element, mark: str) -> None:
    """Give a note or rest a mark's sign: hold a fermata, stop a caesura, ring a tie into nothing; a push has none."""
    if mark == "hold":
        SubElement(notated(note), "fermata")
    elif mark == "stop":
        SubElement(SubElement(notated(note), "articulations"), "caesura")
    elif mark == "ring" and note.find("rest") is None:
        SubElement(notated(note), "tied", {"type": "let-ring"})


def notated(note: Element) -> Element:
    """Return a note's notations, made where there are none."""
    found = note.find("notations")
    return found if found is not None else SubElement(note, "notations")
