from dataclasses import replace

import pytest

from engine.chord.symbol import read_symbol
from engine.planning.clarity import blur_words, clarity
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.song.model import Pin
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold


def test_a_low_third_is_warned_of_with_the_lift_that_cures_it():
    (words,) = blur_words(read_symbol("Am"), (45, 48, 52), None)
    assert words.startswith("A2 and C3 sit low and blur: clear from 3 half steps higher")


@pytest.mark.parametrize("keys", [(48, 52, 55), (36, 48), (36, 43, 52)])
def test_what_is_clear_is_not_warned_of(keys):
    assert blur_words(read_symbol("C"), keys, None) == ()


def test_a_low_tritone_is_disputed_and_never_warned_of():
    assert blur_words(read_symbol("Bm7b5"), (35, 41), None) == ()


def test_a_pinned_low_chord_carries_its_warning_into_the_plan():
    steps = unfold(song_from_chart("| C | G7 |"))
    pin = Pin(steps[0].section, steps[0].bar, steps[0].beat, (36, 40, 43), (60,))
    (first, _) = plan(steps, replace(Request(), pins=(pin,))).steps
    assert any("blur" in warning for warning in first.warnings)
    assert clarity(first)["below_limits"] > 0


@pytest.mark.parametrize("model", ["roughness", "dissonance"])
def test_two_models_agree_that_a_seventh_chord_is_rougher_than_a_bare_fifth(planned, model):
    low, high = (planned(chord, method="close").steps[0] for chord in ("Cmaj7", "C5"))
    assert clarity(low)[model] > clarity(high)[model] >= 0
