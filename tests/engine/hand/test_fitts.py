"""Fitts's index of difficulty."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.hand.fitts import bits

ways = st.floats(0, 1500)


@pytest.mark.parametrize(("way", "found"), [(0.0, 0.0), (11.75, 0.0), (23.5, 1.0), (47.0, 2.0), (188.0, 4.0)])
def test_each_doubling_of_the_way_is_a_bit_and_half_a_key_is_nothing(way: float, found: float) -> None:
    assert bits(way, 23.5) == found


@given(ways, ways, st.floats(1, 50))
def test_the_aim_grows_with_the_way(one: float, other: float, width: float) -> None:
    near, far = sorted((one, other))
    assert bits(near, width) <= bits(far, width)


@given(ways, st.floats(1, 50), st.floats(1, 50))
def test_the_narrower_key_is_never_the_easier_aim(way: float, one: float, other: float) -> None:
    narrow, wide = sorted((one, other))
    assert bits(way, narrow) >= bits(way, wide)
