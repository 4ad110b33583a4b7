import pytest

from engine.ear.limits import ARRANGING, GLOSSARY, LOWEST_CLEAR, muddiness


def test_a_third_on_c3_is_clear_and_every_semitone_below_counts_one():
    assert [muddiness((low, low + 3)) for low in (48, 47, 45)] == [0.0, 1.0, 3.0]


def test_octaves_and_wide_intervals_are_clear_everywhere():
    assert muddiness((28, 40)) == muddiness((28, 45)) == 0.0


def test_where_the_two_tables_agree_their_value_is_used():
    agreed = {interval for interval in ARRANGING if ARRANGING[interval] == GLOSSARY[interval]}
    assert agreed == {1, 2, 3, 8, 9, 10, 11}
    assert all(LOWEST_CLEAR[interval] == ARRANGING[interval] for interval in agreed)


def test_keys_must_ascend():
    with pytest.raises(ValueError, match="ascend"):
        muddiness((60, 60))
