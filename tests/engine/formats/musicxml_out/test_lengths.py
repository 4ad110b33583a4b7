from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.formats.musicxml_out.lengths import TYPES, written

LENGTHS = st.builds(Fraction, st.integers(1, 64), st.sampled_from((1, 2, 3, 4, 5, 6, 7, 8, 12)))


@pytest.mark.parametrize(
    ("quarters", "types"),
    [
        (4, [("whole", 0)]), (3, [("half", 1)]), (Fraction(3, 2), [("quarter", 1)]), (Fraction(1, 2), [("eighth", 0)]),
        (5, [("whole", 0), ("quarter", 0)]), (Fraction(5, 2), [("half", 0), ("eighth", 0)]), (12, [("breve", 1)]),
    ],
)  # fmt: skip
def test_a_length_is_written_in_as_few_values_as_it_takes(quarters, types):
    assert [(length.type, length.dots) for length in written(Fraction(quarters))] == types


def test_a_third_of_a_half_is_a_quarter_in_a_triplet():
    (length,) = written(Fraction(2, 3))
    assert (length.type, length.actual, length.normal) == ("quarter", 3, 2)


@given(LENGTHS)
def test_tied_values_last_as_long_as_the_length(quarters):
    values = {name: value for value, name in TYPES.items()}
    found = written(quarters)
    assert sum(length.quarters for length in found) == quarters
    for length in found:
        shown = values[length.type] * (Fraction(3, 2) if length.dots else 1) * length.normal / length.actual
        assert shown == length.quarters


@pytest.mark.parametrize("length", [Fraction(0), Fraction(-1), Fraction(1, 512)])
def test_nothing_can_last_nothing(length):
    with pytest.raises(ValueError, match=r"length|written"):
        written(length)
