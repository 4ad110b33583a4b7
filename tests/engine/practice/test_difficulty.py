"""Checked against Fitts's own table, and by laws: farther, more fingers and faster are never easier."""

from dataclasses import replace
from fractions import Fraction
from statistics import linear_regression

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.hand.grip import Grip
from engine.practice.difficulty import COMFORT, TABLE, available, hand_time, load, needed, starting_tempo
from engine.practice.model import Shift
from tests.engine.practice.by_hand import grip, shift, step

FITTS_TABLE_1 = {
    (2, 2): 180, (4, 2): 203, (8, 2): 279, (16, 2): 388,
    (2, 1): 212, (4, 1): 260, (8, 1): 357, (16, 1): 481,
    (2, 0.5): 281, (4, 0.5): 372, (8, 0.5): 469, (16, 0.5): 595,
    (2, 0.25): 392, (4, 0.25): 484, (8, 0.25): 580, (16, 0.25): 731,
}  # fmt: skip
"""(distance, width) in inches -> milliseconds a tap, stylus of 1 oz. Source: Fitts 1954, table 1."""


def test_the_line_through_fitts_own_table_is_ours() -> None:
    from math import log2

    index = [log2(2 * distance / width) for distance, width in FITTS_TABLE_1]
    line = linear_regression(index, [float(time) for time in FITTS_TABLE_1.values()])
    assert line.slope == pytest.approx(TABLE["aim"].value * 1000, abs=0.1)
    assert line.intercept == pytest.approx(TABLE["start"].value * 1000, abs=0.2)


def test_every_constant_says_where_it_comes_from() -> None:
    assert all(constant.source and constant.unit for constant in TABLE.values())


def test_hands_that_hold_everything_need_no_time() -> None:
    assert needed(shift("5:48", "1:64 3:70", "5:48", "1:64 3:70")) == 0.0


def test_a_hand_that_only_lifts_needs_no_time() -> None:
    assert needed(shift("5:48", "1:64 3:70", "5:48", "1:64")) == 0.0


def test_an_octave_down_the_keyboard_takes_fitts_time_for_an_octave() -> None:
    time = hand_time(grip("5:48"), grip("5:36"), "left")
    assert time.farthest == pytest.approx(164.5)
    # Distance 164.5 mm, width 23.5 mm: log2(14) = 3.81 bits.
    assert time.aim == pytest.approx(0.0128 + 0.0947 * 3.807, abs=0.0005)
    assert (time.reform, time.land, time.cross) == (0.0, 0.0, 0.0)


def test_a_hand_carried_as_it_is_has_nothing_to_re_form() -> None:
    assert hand_time(grip("1:60 3:64 5:67"), grip("1:65 3:69 5:72"), "right").reform == 0.0


def test_a_black_key_is_the_harder_aim() -> None:
    # An octave from black to black is as far as one from white to white: log2(2 x 164.5 / 10) = 5.04 bits.
    white, black = (hand_time(grip(f"2:{key}"), grip(f"2:{key + 12}"), "right") for key in (60, 61))
    assert white.farthest == black.farthest
    assert black.aim == pytest.approx(0.0128 + 0.0947 * 5.040, abs=0.0005)
    assert black.aim > white.aim


def test_a_key_passed_to_another_finger_is_a_crossing() -> None:
    assert hand_time(grip("1:60 3:64"), grip("1:57 2:60"), "right").cross > 0


def test_the_other_hand_never_makes_it_easier() -> None:
    one = shift("5:48", "1:64", "5:48", "1:67")
    assert needed(replace(one, after=(grip("5:43"), one.after[1]))) >= needed(one)


WHOLE_HANDS = [
    ("5:48", "1:64 3:67 5:72", "5:53", "1:69 3:72 5:77"),
    ("5:48 1:55", "2:64 5:71", "5:50 1:57", "2:65 5:72"),
    ("5:43 1:50", "1:59 2:62 5:65", "5:48 1:55", "1:60 2:64 5:67"),
]
"""Shifts in which both hands go and no key is held."""


@pytest.mark.parametrize("whole", WHOLE_HANDS)
@pytest.mark.parametrize("thumb", [59, 61])
def test_hands_that_move_as_wholes_are_harder_than_a_thumb_that_slides_a_half_step(whole, thumb) -> None:
    lone = shift("5:48 1:55", "1:60 2:64 4:67", "5:48 1:55", f"1:{thumb} 2:64 4:67")
    assert needed(lone) < needed(shift(*whole))
    # A beat at 138: the thumb alone is no place to practise at.
    assert load(needed(lone), 60 / 138) < COMFORT


def test_each_key_that_stays_makes_a_shift_easier_to_think_of() -> None:
    few, more = shift("5:48", "1:64", "5:48", "1:65"), shift("5:48", "1:64 3:67 5:71", "5:48", "1:65 3:67 5:71")
    assert needed(more) < needed(few)


def moved(hand: Grip, way: int) -> Grip:
    return Grip(tuple(key + way for key in hand.keys), hand.fingers)


@given(st.integers(1, 4), st.sampled_from([1, -1]))
def test_carrying_the_hand_an_octave_farther_always_takes_longer(octaves: int, side: int) -> None:
    hand = grip("1:60 2:64 5:67")
    near, far = (hand_time(hand, moved(hand, 12 * side * way), "right").seconds for way in (octaves - 1, octaves))
    assert far > near


@given(st.floats(20, 400), st.floats(20, 400))
def test_a_faster_tempo_never_gives_more_time(one: float, other: float) -> None:
    slow, fast = sorted((one, other))
    before, after = step(0, "Dm7"), step(1, "G7")
    assert available(before, after, slow) >= available(before, after, fast)


@given(st.floats(0.01, 3), st.floats(0.05, 8), st.floats(20, 400))
def test_at_the_starting_tempo_half_the_time_is_enough(needs: float, gives: float, tempo: float) -> None:
    start = starting_tempo(needs, gives, tempo)
    assert 1 <= start <= tempo
    # The time there is grows as the tempo falls.
    assert load(needs, gives * tempo / start) <= 0.5 + 1e-9 or start == 1.0


def test_two_beats_at_a_hundred_and_twenty_are_a_second() -> None:
    assert available(step(0, "Dm7", Fraction(2)), step(1, "G7"), 120.0) == pytest.approx(1.0)


def test_a_pushed_chord_leaves_an_eighth_less() -> None:
    before = step(0, "Dm7", Fraction(2))
    assert available(before, step(1, "G7", mark="push"), 120.0) == pytest.approx(0.75)
    assert available(before, step(1, "G7", mark="push"), 120.0, feel="swing") == pytest.approx(1 - 1 / 6)


def test_a_bar_without_chord_gives_the_hands_its_time() -> None:
    assert available(step(0, "Dm7"), step(2, "G7"), 120.0, between=Fraction(4)) == pytest.approx(4.0)


keys = st.lists(st.integers(40, 80), min_size=1, max_size=5, unique=True).map(sorted)


@st.composite
def a_grip(draw: st.DrawFn) -> Grip:
    held = draw(keys)
    fingers = sorted(draw(st.permutations(range(1, 6)))[: len(held)])
    return Grip(tuple(held), tuple(fingers))


@given(a_grip(), a_grip(), a_grip(), a_grip())
def test_every_shift_has_a_finite_time_and_none_at_all_only_when_nothing_comes(
    left: Grip, right: Grip, left_after: Grip, right_after: Grip
) -> None:
    here = Shift((left, right), (left_after, right_after))
    assert 0.0 <= needed(here) < 5.0
    assert needed(Shift(here.before, here.before)) == 0.0
