"""Chords over chords, as one."""

from itertools import product
from xml.etree.ElementTree import fromstring

import pytest

from engine.chord.symbol import read_symbol
from engine.formats.musicxml_in.harmony import read_harmony
from engine.formats.musicxml_in.polychords import as_one
from engine.theory.key import read_key


def tones(symbol: str) -> set[int]:
    chord = read_symbol(symbol)
    assert chord is not None
    return {tone.pc for tone in chord.tones}


@pytest.mark.parametrize(
    ("upper", "lower", "one"),
    [("D", "C7", "C13#11"), ("A", "C7", "C13b9"), ("Eb", "C7", "C7#9"), ("D", "Cmaj7", "Cmaj13(#11)"),
     ("G", "Cmaj7", "Cmaj9"), ("Am", "C", "C6"), ("Gb", "Ab7", "Ab11")],
)  # fmt: skip
def test_an_upper_triad_becomes_tensions(upper, lower, one):
    found = as_one(upper, lower)
    assert found is not None
    assert tones(found) == tones(upper) | tones(lower)
    assert tones(found) == tones(one) | tones(lower)


@pytest.mark.parametrize(
    ("upper", "lower"), [*product(("C", "Db", "Em", "F#7", "Gm7"), ("C7", "Fm", "Bbmaj7", "Adim7"))]
)
def test_whatever_is_read_has_the_tones_of_both(upper, lower):
    found = as_one(upper, lower)
    assert found is None or tones(found) == tones(upper) | tones(lower)


def chord(step: str, kind: str) -> str:
    return f"<root><root-step>{step}</root-step></root><kind>{kind}</kind>"


def test_two_roots_in_one_harmony_stand_one_over_the_other():
    found = read_harmony(fromstring(f"<harmony>{chord('D', 'major')}{chord('C', 'dominant')}</harmony>"), read_key("C"))
    assert tones(found.symbol) == tones("C13#11")
    assert found.doubt == "D over C7, read as the one chord of their tones"


def test_what_has_no_name_together_stays_a_doubt():
    text = f"<harmony>{chord('B', 'dominant')}{chord('C', 'dominant')}</harmony>"
    found = read_harmony(fromstring(text), read_key("C"))
    assert (found.symbol, found.doubt) == ("B7", "a chord over a chord, only the first read")


def test_numerals_one_over_the_other_are_not_added():
    text = "<harmony><function>V</function><kind>dominant</kind><function>II</function><kind>minor</kind></harmony>"
    found = read_harmony(fromstring(text), read_key("C"))
    assert (found.symbol, found.doubt) == ("G7", "a chord over a chord, only the first read")
