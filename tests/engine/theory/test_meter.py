"""Meters as bands count them. Source: common practice."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.theory.meter import beats_figure, meter, shared_evenly

METERS = ("4/4", "3/4", "2/2", "6/8", "9/8", "12/8", "5/8", "7/8", "3/8", "6/16")


@pytest.mark.parametrize(
    ("text", "beats", "quarters"),
    [("4/4", 4, 1), ("2/2", 2, 2), ("6/8", 2, 1.5), ("12/8", 4, 1.5), ("7/8", 7, 0.5), ("3/8", 3, 0.5), ("6/4", 6, 1)],
)
def test_a_beat_is_what_the_foot_taps(text, beats, quarters):
    assert (meter(text).beats, meter(text).beat_quarters) == (beats, quarters)


@pytest.mark.parametrize("text", METERS)
def test_the_beats_fill_the_bar(text):
    assert meter(text).beats * meter(text).beat_quarters == meter(text).bar_quarters


@pytest.mark.parametrize("text", METERS)
def test_a_meter_written_is_read_as_the_same(text):
    assert meter(str(meter(text))) == meter(text)


@pytest.mark.parametrize("text", ["", "4", "0/4", "33/4", "4/3", "4/32", "four"])
def test_what_is_no_meter_is_refused(text):
    with pytest.raises(ValueError, match="is no meter"):
        meter(text)


@pytest.mark.parametrize(("text", "seconds"), [("4/4", 0.5), ("2/2", 1.0), ("7/8", 0.25), ("6/8", 0.5)])
def test_a_tempo_counts_quarters_and_dotted_quarters_in_compound_meters(text, seconds):
    assert meter(text).beat_seconds(120) == seconds


@pytest.mark.parametrize("text", METERS)
def test_a_push_is_an_eighth_early_and_in_swing_a_third_of_the_beat(text):
    found = meter(text)
    assert found.push("straight") * found.beat_quarters == Fraction(1, 2) or str(found) == "6/16"
    assert found.push("swing") == Fraction(1, 3)


@pytest.mark.parametrize(
    ("count", "beats", "even"), [(1, 3, True), (2, 4, True), (8, 4, True), (3, 4, False), (2, 3, False)]
)
def test_chords_share_a_bar_evenly_in_whole_or_half_beats(count, beats, even):
    assert shared_evenly(count, beats) is even


@given(st.integers(1, 12), st.integers(1, 12))
def test_what_is_shared_evenly_gives_every_chord_half_a_beat_or_whole_ones(count, beats):
    if count > 1 and shared_evenly(count, beats):
        share = Fraction(beats, count)
        assert share == Fraction(1, 2) or share.denominator == 1


@pytest.mark.parametrize(("beats", "figure"), [(Fraction(3), "3"), (Fraction(5, 2), "2.5"), (Fraction(4, 3), "1.333")])
def test_beats_are_read_as_figures(beats, figure):
    assert beats_figure(beats) == figure
