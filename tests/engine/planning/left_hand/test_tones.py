"""Where the tones of a left hand's patterns lie. Where nothing else is named the source is common practice."""

import pytest

from engine.chord.symbol import read_symbol
from engine.ear.limits import muddiness
from engine.planning.left_hand.tones import figures, over, tenth, walked


@pytest.mark.parametrize(
    ("symbol", "semitones"), [("C", 7), ("Cm7", 7), ("Cm7b5", 6), ("Cdim7", 6), ("Caug", 8), ("C7#5", 8), ("C6", 7)]
)
def test_the_fifth_is_the_chords_own(symbol, semitones):
    assert over(read_symbol(symbol)) == semitones


@pytest.mark.parametrize(("symbol", "semitones"), [("C/G", 5), ("C/E", 8), ("G/B", 8), ("Am/G", 9), ("Dm7/C", 9)])
def test_over_a_written_bass_its_root_or_fifth_alternates_with_it(symbol, semitones):
    assert over(read_symbol(symbol)) == semitones


@pytest.mark.parametrize(("symbol", "semitones"), [("C", 16), ("Cm", 15), ("Csus4", 17), ("C/E", 15), ("C5", 12)])
def test_the_tenth_is_the_third_above_the_octave(symbol, semitones):
    assert tenth(read_symbol(symbol)) == semitones


def test_the_fifth_of_root_and_fifth_may_lie_below_the_root():
    found = figures(read_symbol("G7"), 43, "root and fifth", ("1", "5"), 28)
    assert found == (((43,), (50,)), ((43,), (38,)))


def test_the_chords_of_a_stride_lie_clear_about_middle_c_and_jump_from_the_bass():
    for strokes in figures(read_symbol("Dm7"), 38, "stride", ("1", "chord"), 28):
        assert strokes[1][0] >= 47
        assert strokes[1][-1] <= 64
        assert strokes[1][0] - 38 >= 9
        assert muddiness(strokes[1]) == 0


def test_a_walking_line_leads_by_a_half_or_a_whole_step():
    layers = walked(read_symbol("Dm7"), 38, ("1", "walk", "walk", "lead"), 7, 28)
    assert layers[0] == ((38,),)
    assert {(key - 7) % 12 for (key,) in layers[3]} == {1, 2, 10, 11}
    assert all(28 <= key <= 55 and key % 12 in (2, 5, 9, 0) for layer in layers[1:3] for (key,) in layer)
