"""Tensions by free fingers. Source: common practice."""

import pytest

from engine.chord.symbol import read_symbol
from engine.voicing.colours import coloured


def added(symbol, to_minor=False):
    chord = read_symbol(symbol)
    return {tuple(tone.degree for tone in one.tones[len(chord.tones) :]) for one in coloured(chord, to_minor)}


@pytest.mark.parametrize(
    ("symbol", "allowed"),
    [("Cmaj7", {"9", "13", "#11"}), ("Dm7", {"9", "11"}), ("G7", {"9", "13", "#11"}), ("Bm7b5", {"11"}), ("C6", {"9"})],
)
def test_a_chord_may_take_what_does_not_contradict_it(symbol, allowed):
    assert {degree for degrees in added(symbol) for degree in degrees} == allowed


def test_on_the_way_to_minor_a_dominant_takes_a_flat_ninth_and_a_flat_thirteenth():
    assert {degree for degrees in added("G7", to_minor=True) for degree in degrees} == {"b9", "b13"}


@pytest.mark.parametrize("symbol", ["G7alt", "G7b9", "C", "Cm", "C5", "Cdim7", "Caug"])
def test_altered_chords_triads_and_symmetric_chords_stay_as_they_are(symbol):
    assert added(symbol) == set()


def test_what_the_symbol_asks_for_is_not_added_twice():
    assert {degree for degrees in added("G9") for degree in degrees} == {"13", "#11"}
