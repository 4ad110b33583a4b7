"""The accidentals of a written measure: a note shows one where it differs from what holds on its line before it.

Source: MusicXML 4.0 (W3C), <accidental>; that a sign holds for its line and octave until the bar line is common
practice.
"""

from xml.etree.ElementTree import Element

from engine.theory.key import read_key, signature_accidental

SIGNS = {-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}
"""Semitones -> name of the accidental. Source: MusicXML 4.0, accidental-value."""


def add_accidentals(measure: Element, key: str) -> None:
    """Give the notes of a written measure the accidentals that a reader needs, each staff on its own."""
    signature = read_key(key).signature
    holding: dict[tuple[str, str, str], int] = {}
    for note in measure.iter("note"):
        pitch = note.find("pitch")
        if pitch is None:
            continue
        letter = pitch.findtext("step", "")
        line = (note.findtext("staff", ""), letter, pitch.findtext("octave", ""))
        alter = int(pitch.findtext("alter", "0"))
        if alter != holding.get(line, signature_accidental(letter, signature)) and alter in SIGNS:
            _show(note, SIGNS[alter])
        holding[line] = alter


def _show(note: Element, sign: str) -> None:
    """Put the accidental where the schema wants it: after the note's value and its dots."""
    at = max(place for place, child in enumerate(note) if child.tag in ("voice", "type", "dot"))
    found = Element("accidental")
    found.text = sign
    note.insert(at + 1, found)
