import pytest

from engine.hand.keyboard import span
from engine.hand.reach import REACHES, reach_mm


@pytest.mark.parametrize(("words", "semitones"), [("an octave", 12), ("a ninth", 14), ("a tenth", 16)])
def test_a_reach_in_words_covers_that_interval_wherever_it_lies(words, semitones):
    assert all(span(key, key + semitones) <= REACHES[words] for key in range(36, 72))


def test_millimetres_may_be_given_as_they_are():
    assert reach_mm(205) == reach_mm("205") == 205.0


@pytest.mark.parametrize("value", ["wide", "20", 900, None])
def test_what_is_no_reach_is_refused(value):
    with pytest.raises(ValueError, match="no reach"):
        reach_mm(value)
