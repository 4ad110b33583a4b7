"""A row of clicks and its answers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.performance.latency import APART, CLICKS, EVEN, SETTLING_IN, latency_clicks, measured

AT = tuple(100 + number * APART for number in range(CLICKS))


@given(st.floats(-0.25, 0.25))
def test_a_player_who_is_as_late_every_time_is_that_late(late):
    found = measured(AT, tuple(at + late for at in AT))
    assert found.seconds == pytest.approx(late)
    assert found.even


@given(st.lists(st.floats(-0.03, 0.03), min_size=CLICKS, max_size=CLICKS), st.floats(-0.1, 0.1))
def test_uneven_fingers_move_it_by_no_more_than_they_scatter(scatter, late):
    found = measured(AT, tuple(at + late + off for at, off in zip(AT, scatter, strict=True)))
    assert abs(found.seconds - late) <= 0.03 + 1e-9


def test_one_click_missed_and_one_wrong_key_change_nothing():
    struck = [at + 0.05 for at in AT]
    del struck[4]
    assert measured(AT, (*struck, AT[6] - 0.2)).seconds == pytest.approx(0.05)


def test_the_first_clicks_are_there_to_come_in():
    struck = tuple(at + (0.2 if number < SETTLING_IN else 0.01) for number, at in enumerate(AT))
    assert measured(AT, struck).seconds == pytest.approx(0.01)


def test_too_few_answers_are_none_and_scattered_ones_are_not_even():
    assert measured(AT, ()) is None
    assert measured(AT, AT[:4]) is None
    wild = tuple(at + (3 * EVEN if number % 2 else -3 * EVEN) for number, at in enumerate(AT))
    assert not measured(AT, wild).even


def test_there_is_time_to_answer_the_last_click():
    clicks = latency_clicks()
    beats = [mark.seconds for mark in clicks.marks if mark.kind == "beat"]
    assert len(beats) == CLICKS
    assert clicks.marks[-1].kind == "end"
    assert clicks.marks[-1].seconds - beats[-1] == pytest.approx(APART)
