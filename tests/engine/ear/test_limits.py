import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.ear.limits import (
    ARRANGING,
    GLOSSARY,
    LOWEST_CLEAR,
    Blur,
    blurred,
    lift_that_clears,
    muddiness,
    with_root,
)

CHORDS = st.sets(st.integers(21, 96), min_size=1, max_size=8).map(lambda keys: tuple(sorted(keys)))


def test_a_third_on_c3_is_clear_and_every_semitone_below_counts_one():
    assert [muddiness((low, low + 3)) for low in (48, 47, 45)] == [0.0, 1.0, 3.0]


def test_octaves_and_wide_intervals_are_clear_everywhere():
    assert muddiness((28, 40)) == muddiness((28, 45)) == 0.0


def test_where_the_two_tables_agree_their_value_is_used():
    agreed = {interval for interval in ARRANGING if ARRANGING[interval] == GLOSSARY[interval]}
    assert agreed == {1, 2, 3, 8, 9, 10, 11}
    assert all(LOWEST_CLEAR[interval] == ARRANGING[interval] for interval in agreed)


def test_every_neighbouring_pair_is_heard_and_no_other():
    # A1 C#2 E2: the third is 13 semitones under Bb2, the minor third 11 under C3; the fifth around them is not asked.
    assert blurred((33, 37, 40)) == (Blur(33, 37, 13), Blur(37, 40, 11))


def test_the_third_of_a_chord_over_its_root_is_weighed_with_the_root_beneath():
    # Over a bass player's Bb1 a right hand from D2 blurs, though D2 and F2 alone are no worse than any minor third.
    assert muddiness((50, 56), root_beneath=10) == muddiness((46, 50, 56))


def test_a_root_in_the_lowest_place_is_not_added_again():
    assert with_root((48, 52, 55), 0) == (48, 52, 55)
    assert with_root((52, 55, 60), 0) == (48, 52, 55, 60)


def test_no_keys_are_clear():
    assert muddiness(()) == muddiness((), root_beneath=0) == 0.0


def test_keys_must_ascend():
    with pytest.raises(ValueError, match="ascend"):
        muddiness((60, 60))


@given(CHORDS, st.none() | st.integers(0, 11))
def test_the_lift_clears_the_chord_and_a_smaller_one_does_not(keys, root):
    lift = lift_that_clears(keys, root)

    def lifted(by):
        return muddiness(tuple(key + by for key in keys), None if root is None else (root + by) % 12)

    assert lifted(lift) == 0.0
    assert not lift or lifted(lift - 1) > 0.0


@given(CHORDS)
def test_a_chord_an_octave_higher_is_never_muddier(keys):
    assert muddiness(tuple(key + 12 for key in keys)) <= muddiness(keys)


@pytest.mark.parametrize("simple", [1, 2, 3, 4])
def test_a_ninth_or_a_tenth_may_lie_an_octave_lower_than_a_second_or_a_third(simple):
    # Common practice: what makes a spread clear where a close chord is mud.
    assert LOWEST_CLEAR[simple + 12] == LOWEST_CLEAR[simple] - 12
