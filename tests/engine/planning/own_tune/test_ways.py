"""The way of the fingers through the tune: the cheapest of all, as trying each finds it."""

from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.hand.fingering import FREE, fingerings
from engine.hand.grip import RIGHT
from engine.hand.keyboard import span
from engine.planning.hand_states import grip_of, states_of_grips
from engine.planning.own_tune.ways import AWKWARD, MOST_WAYS, crossing, tune_ways
from engine.planning.shift_costs import PATTERN, weighed
from engine.planning.weights import GRAIN, WEIGHTS


def held(*keys):
    return fingerings(np.array([[*keys, *[FREE] * (5 - len(keys))]], dtype=np.int32), RIGHT, 200.0)


def through(keys, *notes):
    return tune_ways(held(*keys), np.array([0]), notes, 200.0, "piano")


def tried(figure_start, notes):
    """The least cost of playing single notes after a grip of one key, every finger on every note tried."""
    rows = [held(note) for note in notes]
    every = [
        [(tuple(under), points) for under, points in zip(row.under.tolist(), row.points, strict=True)] for row in rows
    ]
    least = {}
    for way in product(*every):
        unders = [figure_start, *(under for under, _ in way)]
        states = states_of_grips([grip_of(under) for under in unders], RIGHT)
        at = np.arange(len(unders) - 1)
        cost = int(weighed(states, at, at + 1, PATTERN, "piano").sum())
        cost += sum(round(AWKWARD * GRAIN * crossing(*pair)) for pair in pairwise(unders))
        cost += sum(round(points * WEIGHTS["grip"].value * GRAIN) for _, points in way)
        least[unders[-1]] = min(cost, least.get(unders[-1], cost))
    return least


@settings(max_examples=30, deadline=None)
@given(st.integers(60, 80), st.lists(st.integers(60, 84), min_size=1, max_size=3))
def test_no_fingers_are_cheaper_than_those_found(first, notes):
    found = through((first,), *notes)
    for under, figure in zip(found.under.tolist(), found.figures, strict=True):
        last = [FREE] * 5
        last[figure.last.fingers[0] - 1] = figure.last.keys[0]
        assert figure.inner == tried(tuple(under), notes)[tuple(last)]


@given(st.lists(st.integers(60, 84), min_size=1, max_size=6))
@settings(max_examples=30, deadline=None)
def test_every_chord_goes_through_the_tune_whatever_it_is(notes):
    found = through((60, 64, 67), *notes)
    assert 0 < len(found.of) <= MOST_WAYS
    for figure in found.figures:
        assert [keys for keys, _ in figure.strokes[1:]] == [(note,) for note in notes]
        assert all(span(grip.keys[0], grip.keys[-1]) <= 200.0 for _, grip in figure.strokes)


@pytest.mark.parametrize("up", [0, 12])
def test_what_lies_under_the_hand_is_played_without_letting_the_chord_go(up):
    keys, notes = [key + up for key in (60, 64, 67)], [key + up for key in (69, 67)]
    best = through(keys, *notes).figures[0]
    assert all(grip.keys[:2] == tuple(keys[:2]) for _, grip in best.strokes)


def test_out_of_reach_the_hand_lets_the_chord_go_and_stays_free():
    best = through((60, 64, 67), 81, 67).figures[0]
    assert [grip.keys for _, grip in best.strokes] == [(60, 64, 67), (81,), (67,)]
