"""The cheapest path against trying every path, and against a general shortest-path library."""

from itertools import pairwise, product

import networkx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.planning.cheapest import CEILING, backward, cheapest, cost_of, forward, min_plus


def problem(seed: int, sizes: list[tuple[int, int]], most: int = 9):
    """Random nodes (some pairs not possible) and edges of stages with the given numbers of left and right states."""
    chance = np.random.default_rng(seed)
    nodes = []
    for size in sizes:
        node = chance.integers(0, most, size).astype(np.int32)
        node[chance.random(size) < 0.2] = CEILING
        node.flat[0] = most
        nodes.append(node)
    edges = [
        tuple(chance.integers(0, most, (one[hand], two[hand])).astype(np.int32) for hand in (0, 1))
        for one, two in pairwise(sizes)
    ]
    return nodes, edges


small = st.lists(st.tuples(st.integers(1, 3), st.integers(1, 3)), min_size=1, max_size=4)


@given(seed=st.integers(0, 10**6), sizes=small)
@settings(max_examples=200, deadline=None)
def test_a_plan_agrees_with_trying_every_path(seed, sizes):
    nodes, edges = problem(seed, sizes)
    every = product(*(np.ndindex(node.shape) for node in nodes))
    least = min(cost_of(path, nodes, edges) for path in every)
    cost, path = cheapest(nodes, edges)
    assert cost == least == cost_of(path, nodes, edges)


@pytest.mark.parametrize("seed", range(5))
def test_a_plan_agrees_with_a_general_shortest_path_library(seed):
    nodes, edges = problem(seed, [(6, 5)] * 12, most=1000)
    graph = networkx.DiGraph()
    for stage, node in enumerate(nodes):
        for pair in np.ndindex(node.shape):
            if not stage:
                graph.add_edge("start", (0, pair), weight=int(node[pair]))
                continue
            left, right = edges[stage - 1]
            for before in np.ndindex(nodes[stage - 1].shape):
                weight = int(left[before[0], pair[0]]) + int(right[before[1], pair[1]]) + int(node[pair])
                graph.add_edge((stage - 1, before), (stage, pair), weight=weight)
    for pair in np.ndindex(nodes[-1].shape):
        graph.add_edge((len(nodes) - 1, pair), "end", weight=0)
    assert cheapest(nodes, edges)[0] == networkx.dijkstra_path_length(graph, "start", "end")


@given(seed=st.integers(0, 10**6), sizes=small)
@settings(max_examples=200, deadline=None)
def test_ways_there_and_ways_on_add_up_to_the_same_least_cost_at_every_stage(seed, sizes):
    nodes, edges = problem(seed, sizes)
    there, on = forward(nodes, edges), backward(nodes, edges)
    total = cheapest(nodes, edges)[0]
    for stage in range(len(nodes)):
        joint = there.costs[stage].astype(int) + on.costs[stage]
        assert joint.min() + there.offsets[stage] + on.offsets[stage] == total


def test_ties_fall_to_the_lowest_numbers():
    nodes = [np.zeros((2, 2), dtype=np.int32)] * 3
    edges = [(np.zeros((2, 2), dtype=np.int32),) * 2] * 2
    assert cheapest(nodes, edges) == (0, ((0, 0),) * 3)


def test_a_stage_without_a_possible_pair_is_refused():
    nodes = [np.zeros((1, 1), dtype=np.int32), np.full((2, 2), CEILING, dtype=np.int32)]
    edges = [(np.zeros((1, 2), dtype=np.int32),) * 2]
    with pytest.raises(ValueError, match="stage 1"):
        cheapest(nodes, edges)


@given(
    seed=st.integers(0, 10**6), sizes=st.lists(st.tuples(st.integers(1, 3), st.integers(1, 3)), min_size=1, max_size=9)
)
def test_a_path_walked_in_stretches_is_the_path_walked_at_once(seed, sizes):
    nodes, edges = problem(seed, sizes)
    at_once = cheapest(nodes, edges)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("engine.planning.cheapest.AT_ONCE", 2)
        assert cheapest(nodes, edges) == at_once


def test_ten_thousand_stages_stay_within_32_bits():
    nodes = [np.full((1, 1), 10**6, dtype=np.int32)] * 10_000
    edges = [(np.zeros((1, 1), dtype=np.int32),) * 2] * 9_999
    assert cheapest(nodes, edges)[0] == 10**10


def test_four_costs_that_are_not_possible_still_fit_32_bits():
    assert 10**6 < CEILING <= np.iinfo(np.int32).max // 4


def test_min_plus_is_the_least_sum_over_what_lies_between():
    one, two = np.array([[1, 5], [4, 0]], dtype=np.int32), np.array([[2, 9], [3, 1]], dtype=np.int32)
    assert min_plus(one, two).tolist() == [[3, 5], [3, 1]]
