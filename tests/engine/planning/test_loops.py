"""Closed paths against trying every path."""

from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.planning.cheapest import CEILING, cost_of
from engine.planning.loops import cheapest_loop
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold


def problem(seed, sizes):
    chance = np.random.default_rng(seed)
    nodes = [chance.integers(0, 9, size).astype(np.int32) for size in sizes]
    steps = list(pairwise([*sizes, sizes[0]]))
    edges = [
        tuple(chance.integers(0, 9, (one[hand], two[hand])).astype(np.int32) for hand in (0, 1)) for one, two in steps
    ]
    return nodes, edges[:-1], edges[-1]


@given(
    seed=st.integers(0, 10**6),
    sizes=st.lists(st.tuples(st.integers(1, 3), st.integers(1, 3)), min_size=1, max_size=4),
)
@settings(max_examples=120, deadline=None)
def test_a_loop_agrees_with_trying_every_loop(seed, sizes):
    nodes, edges, (left, right) = problem(seed, sizes)

    def round_trip(path):
        first, last = path[0], path[-1]
        return cost_of(path, nodes, edges) + int(left[last[0], first[0]]) + int(right[last[1], first[1]])

    least = min(round_trip(path) for path in product(*(np.ndindex(node.shape) for node in nodes)))
    cost, path = cheapest_loop(nodes, edges, (left, right))
    assert cost == least == round_trip(path)


def test_a_loop_through_nothing_is_refused():
    nodes = [np.full((1, 1), CEILING, dtype=np.int32)]
    with pytest.raises(ValueError, match="loop"):
        cheapest_loop(nodes, [], (np.zeros((1, 1), dtype=np.int32),) * 2)


VAMP = unfold(song_from_chart("| Dm7 | G7 | Em7 | A7 |"))


def test_the_first_chord_of_a_loop_comes_from_its_last():
    looped = plan(VAMP, Request(method="shell", loop=True))
    last, first = looped.steps[-1], looped.steps[0]
    assert {note.move for note in first.right} != {"press"}
    held = {note.key for note in first.right if note.move == "hold"}
    assert held <= {note.key for note in last.right}
    assert looped.exact
    assert looped.effort == pytest.approx(sum(step.effort for step in looped.steps))


def test_going_round_in_a_loop_costs_no_more_than_playing_the_chain_again_and_again():
    looped = plan(VAMP, Request(method="shell", loop=True)).effort
    times = 6
    bars = "| Dm7 | G7 | Em7 | A7 " * times + "|"
    chain = plan(unfold(song_from_chart(bars)), Request(method="shell"))
    # The chain saves the first shift, and may drift; a loop must come home.
    assert chain.effort <= times * looped + 1e-9


@pytest.mark.parametrize("chords", ["C", "C7 F7", "Dm7 N.C."])
def test_short_loops_close(chords):
    steps = unfold(song_from_chart("| " + " | ".join(chords.split()) + " |"))
    assert len(plan(steps, Request(loop=True)).steps) == len(steps)
