"""Accidentals where a reader needs one. That a sign holds until the bar line is common practice."""

from xml.etree.ElementTree import Element, SubElement

import pytest

from engine.formats.musicxml_out.accidentals import add_accidentals


def shown(notes: str, key: str) -> list[str]:
    """Return the accidentals of a measure of notes such as Eb4 (one above the other makes no difference)."""
    measure = Element("measure")
    for name in notes.split():
        note = SubElement(measure, "note")
        pitch = SubElement(note, "pitch")
        SubElement(pitch, "step").text = name[0]
        SubElement(pitch, "alter").text = str(name.count("#") - name[1:].count("b"))
        SubElement(pitch, "octave").text = name[-1]
        SubElement(note, "voice").text = "1"
        SubElement(note, "type").text = "whole"
        SubElement(note, "staff").text = "1"
    add_accidentals(measure, key)
    return [note.findtext("accidental", "-") for note in measure.iter("note")]


@pytest.mark.parametrize(
    ("notes", "key", "signs"),
    [
        ("C4 E4 G4", "C", "- - -"),
        ("C4 Eb4 G4", "C", "- flat -"),
        ("C4 E4 G#4", "C", "- - sharp"),
        ("C4 Eb4 Gb4", "C", "- flat flat"),
        ("C4 Eb4 G4", "Cm", "- - -"),
        ("C4 E4 G4", "Cm", "- natural -"),
        ("Eb4 Eb4", "C", "flat -"),
        ("Eb4 E4", "C", "flat natural"),
        ("Eb4 Eb5", "C", "flat flat"),
        ("Bbb3 F##4", "C", "flat-flat double-sharp"),
    ],
)
def test_a_sign_stands_where_a_note_differs_from_what_holds(notes, key, signs):
    assert " ".join(shown(notes, key)) == signs
