"""Names on the line of fifths. Source: common practice; middle C is C4, key 60 (MIDI 1.0)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.theory.pitch import NoteName, key_number, note_name, plain_signs, spelled

names = st.integers(-15, 19).map(NoteName)


@pytest.mark.parametrize(
    ("text", "fifths", "pc"), [("C", 0, 0), ("F#", 6, 6), ("Gb", -6, 6), ("B♭", -2, 10), ("Cb", -7, 11)]
)
def test_a_name_has_its_place_on_the_line_of_fifths_and_its_sound(text, fifths, pc):
    assert (note_name(text).fifths, note_name(text).pc) == (fifths, pc)


@pytest.mark.parametrize("text", ["", "H", "c", "C#b", "C4", "Ebbbb"])
def test_what_is_no_note_is_refused(text):
    with pytest.raises(ValueError, match="not a note name"):
        note_name(text)


@given(names)
def test_a_name_written_is_read_as_the_same_name(name):
    assert note_name(str(name)) == name


@given(names)
def test_seven_fifths_up_is_the_same_letter_a_sharp_higher(name):
    raised = name.up(7)
    assert (raised.letter, raised.accidental, raised.pc) == (name.letter, name.accidental + 1, (name.pc + 1) % 12)


@pytest.mark.parametrize(("text", "key"), [("C4", 60), ("Cb4", 59), ("B#3", 60), ("G♯3", 56), ("A0", 21), ("C-1", 0)])
def test_a_pitch_has_its_key(text, key):
    assert key_number(text) == key


@pytest.mark.parametrize("text", ["C", "4", "H3", "C44", "c4"])
def test_a_note_without_its_octave_is_no_pitch(text):
    with pytest.raises(ValueError, match="not a pitch"):
        key_number(text)


@given(names, st.integers(0, 9))
def test_a_pitch_spelled_is_read_as_the_same_key(name, octave):
    key = name.pc + 12 * octave
    assert key_number(spelled(key, name)) == key


def test_a_key_is_not_spelled_with_the_name_of_another_one():
    with pytest.raises(ValueError, match="does not sound"):
        spelled(60, note_name("D"))


def test_printed_signs_become_typed_ones():
    assert plain_signs("B♭7♯9") == "Bb7#9"
