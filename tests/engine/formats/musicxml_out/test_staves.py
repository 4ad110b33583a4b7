"""Notes on the staves. Source: MusicXML 4.0 (W3C), <note>."""

from fractions import Fraction
from xml.etree.ElementTree import Element

import pytest

from engine.formats.musicxml_out.staves import Staff, add_hand
from engine.planning.model import PlannedNote

THIRD = (PlannedNote(58, "Bb3", "1", 1, "press", None), PlannedNote(61, "C#4", "3", 3, "press", None))


def written(quarters: Fraction, notes: tuple[PlannedNote, ...] = THIRD, staff: int = 1) -> list[Element]:
    measure = Element("measure")
    add_hand(measure, notes, quarters, Staff(staff, 12))
    return measure.findall("note")


def test_the_notes_of_a_hand_are_one_chord_with_their_fingers():
    low, high = written(Fraction(1))
    assert (low.find("chord"), high.find("chord") is not None) == (None, True)
    assert [note.findtext("pitch/step") for note in (low, high)] == ["B", "C"]
    assert [note.findtext("pitch/alter") for note in (low, high)] == ["-1", "1"]
    assert [note.findtext(".//fingering") for note in (low, high)] == ["1", "3"]


@pytest.mark.parametrize(("staff", "voice"), [(1, "1"), (2, "5")])
def test_each_hand_has_its_staff_and_voice(staff, voice):
    for note in written(Fraction(1), staff=staff):
        assert (note.findtext("staff"), note.findtext("voice")) == (str(staff), voice)


def test_five_quarters_are_a_tied_whole_and_quarter_with_the_finger_once():
    notes = [note for note in written(Fraction(5)) if note.find("chord") is None]
    assert [note.findtext("type") for note in notes] == ["whole", "quarter"]
    assert [[tie.get("type") for tie in note.findall("tie")] for note in notes] == [["start"], ["stop"]]
    assert [[tie.get("type") for tie in note.findall("notations/tied")] for note in notes] == [["start"], ["stop"]]
    assert [note.findtext(".//fingering") for note in notes] == ["1", None]


def test_a_third_of_a_beat_is_a_triplet_and_three_quarters_of_one_dotted():
    (third, *_), (dotted, *_) = written(Fraction(1, 3)), written(Fraction(3, 4))
    change = third.find("time-modification")
    assert (third.findtext("type"), third.findtext("duration")) == ("eighth", "4")
    assert (change.findtext("actual-notes"), change.findtext("normal-notes")) == ("3", "2")
    assert (dotted.findtext("type"), len(dotted.findall("dot"))) == ("eighth", 1)


def test_a_hand_without_keys_rests():
    notes = written(Fraction(5), ())
    assert all(note.find("rest") is not None for note in notes)
    assert sum(int(note.findtext("duration")) for note in notes) == 60
