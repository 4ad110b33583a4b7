import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.theory.key import (
    MAJOR_TONICS,
    MINOR_TONICS,
    Key,
    degree_in_key,
    note_of_degree,
    read_key,
    sensible,
    signature_accidental,
    spelled_in_key,
)
from engine.theory.pitch import NoteName, key_number, note_name


@pytest.mark.parametrize(
    ("text", "key"), [("Eb", "Eb"), ("Cm", "Cm"), ("F#m", "F#m"), ("C minor", "Cm"), ("B♭ major", "Bb")]
)
def test_a_key_reads_as_people_write_it(text, key):
    assert str(read_key(text)) == key


@pytest.mark.parametrize("text", ["", "X", "Cmm", "7", "H"])
def test_what_is_no_key_is_refused(text):
    with pytest.raises(ValueError, match="is no key"):
        read_key(text)


@pytest.mark.parametrize(
    ("key", "signature"), [("C", 0), ("G", 1), ("F", -1), ("Am", 0), ("Em", 1), ("F#", 6), ("Gb", -6), ("Ebm", -6)]
)
def test_the_signature_is_the_one_in_the_books(key, signature):
    assert read_key(key).signature == signature


@pytest.mark.parametrize(
    ("absurd", "sense"),
    [("D#", "Eb"), ("G#", "Ab"), ("A#", "Bb"), ("C#", "Db"), ("Cb", "B"), ("Gbm", "F#m"), ("F#", "F#"), ("Gb", "Gb")],
)
def test_nobody_writes_an_absurd_key(absurd, sense):
    assert str(sensible(read_key(absurd))) == sense


@pytest.mark.parametrize(
    ("name", "tonic", "degree"), [("Eb", "C", "b3"), ("F#", "C", "#4"), ("C", "D", "b7"), ("C#", "D", "7")]
)
def test_a_note_is_counted_in_the_major_scale(name, tonic, degree):
    assert degree_in_key(note_name(name), note_name(tonic)) == degree


@given(st.integers(-15, 19), st.integers(-7, 7))
def test_a_degree_counted_is_the_same_note_again(fifths, tonic):
    degree = degree_in_key(NoteName(fifths), NoteName(tonic))
    signs, number = degree.rstrip("1234567"), int(degree.lstrip("b#"))
    assert note_of_degree(signs, number, NoteName(tonic)) == NoteName(fifths)


@pytest.mark.parametrize(
    ("pitch", "key", "name"),
    [("Ab3", "Eb", "Ab3"), ("Ab3", "E", "G#3"), ("G#4", "Am", "G#4"), ("Bb4", "C", "Bb4"), ("F#4", "Gb", "Gb4")],
)
def test_a_key_is_called_as_the_music_calls_it(pitch, key, name):
    # Common practice: the leading note of a minor key is sharpened, blue notes of a major one are flat.
    assert spelled_in_key(key_number(pitch), read_key(key).signature) == name


@given(st.integers(0, 127), st.integers(-7, 7))
def test_every_key_of_the_keyboard_has_a_name_in_every_signature(key, signature):
    assert key_number(spelled_in_key(key, signature)) == key


@pytest.mark.parametrize(("tonics", "minor"), [(MAJOR_TONICS, False), (MINOR_TONICS, True)])
def test_the_twelve_tonics_are_in_order_and_sensible(tonics, minor):
    keys = [Key(note_name(tonic), minor) for tonic in tonics]
    assert [key.tonic.pc for key in keys] == list(range(12))
    assert keys == [sensible(key) for key in keys]


@pytest.mark.parametrize(
    ("key", "signed"),
    [
        ("Eb", {"B": -1, "E": -1, "A": -1}),
        ("E", {"F": 1, "C": 1, "G": 1, "D": 1}),
        ("C", {}),
        ("G#", {"F": 2, "C": 1, "G": 1, "D": 1, "A": 1, "E": 1, "B": 1}),
    ],
)
def test_signatures_are_those_of_the_circle_of_fifths(key, signed):
    # Common practice.
    found = {letter: signature_accidental(letter, read_key(key).signature) for letter in "CDEFGAB"}
    assert {letter: sign for letter, sign in found.items() if sign} == signed
