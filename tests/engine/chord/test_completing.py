"""Symbols completed while they are typed."""

import pytest

from engine.chord.completing import completed_symbols
from engine.chord.quality import KNOWN
from engine.chord.symbol import read_symbol


def test_the_most_common_symbols_come_first():
    assert completed_symbols("C")[:3] == ("C7", "Cm7", "Cmaj7")
    assert completed_symbols("Ebm")[:3] == ("Ebm7", "Ebmaj7", "Ebm6")
    assert completed_symbols("F#m7") == ("F#m7b5", "F#m7#5")


@pytest.mark.parametrize("typed", ["", "x", "c", "C/", "C/E", "H7z", "Gxyz"])
def test_what_begins_no_symbol_is_not_completed(typed: str):
    assert completed_symbols(typed) == ()


def test_every_completed_symbol_is_one_and_every_quality_is_offered():
    offered = completed_symbols("Bb")
    assert all(read_symbol(symbol) for symbol in offered)
    assert {symbol.removeprefix("Bb") for symbol in offered} == {quality for quality in KNOWN if quality}
