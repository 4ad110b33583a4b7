import pytest

from engine.theory.key import degree_in_key, read_key, sensible
from engine.theory.pitch import note_name


@pytest.mark.parametrize(
    ("text", "key"), [("Eb", "Eb"), ("Cm", "Cm"), ("F#m", "F#m"), ("C minor", "Cm"), ("B♭ major", "Bb")]
)
def test_a_key_reads_as_people_write_it(text, key):
    assert str(read_key(text)) == key


@pytest.mark.parametrize("text", ["", "X", "Cmm", "7", "H"])
def test_what_is_no_key_is_refused(text):
    with pytest.raises(ValueError, match="not a key"):
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
