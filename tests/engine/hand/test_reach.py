import pytest

from engine.hand.keyboard import span
from engine.hand.reach import REACHES, reach_mm, typed_reach


@pytest.mark.parametrize(("words", "semitones"), [("an octave", 12), ("a ninth", 14), ("a tenth", 16)])
def test_a_reach_in_words_covers_that_interval_wherever_it_lies(words, semitones):
    assert all(span(key, key + semitones) <= REACHES[words] for key in range(36, 72))


def test_millimetres_may_be_given_as_they_are():
    assert reach_mm(205) == reach_mm("205") == 205.0


@pytest.mark.parametrize("value", ["wide", "20", 900, None])
def test_what_is_no_reach_is_refused(value):
    with pytest.raises(ValueError, match="no reach"):
        reach_mm(value)


@pytest.mark.parametrize(
    ("typed", "millimetres"),
    [
        ("C E", 212),
        ("c to e", 212),
        ("C C", 165),
        ("C D", 188),
        ("E G", 212),
        ("C3 E4", 212),
        ("C3 B3", 141),
        ("210", 210),
    ],
)
def test_a_reach_is_typed_by_the_widest_white_keys(typed: str, millimetres: int) -> None:
    # Ten white keys and an octave of 164.5 mm (the usual modern piano): C to E is nine of 23.5 mm, rounded up.
    assert typed_reach(typed) == millimetres


@pytest.mark.parametrize("typed", ["", "H C", "C3 C6", "wide", "C3 E3"])
def test_what_is_no_reach_is_refused_when_it_is_typed(typed: str) -> None:
    with pytest.raises(ValueError, match="no reach"):
        typed_reach(typed)
