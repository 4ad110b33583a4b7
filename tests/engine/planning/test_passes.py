"""One section, one fingering: agreement between the visits of a stage, against trying every choice."""

from itertools import pairwise, product
from operator import eq

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.planning.cheapest import CEILING, cost_of
from engine.planning.passes import _Table, agree
from engine.planning.path_cache import Memory


def problem(seed: int, route: list[int], size: int = 2):
    chance = np.random.default_rng(seed)
    nodes = [chance.integers(0, 6, (size, size)).astype(np.int32) for _ in range(max(route) + 1)]
    table = {
        (one, two): tuple(chance.integers(0, 9, (size, size)).astype(np.int32) for _ in range(2))
        for one in range(len(nodes))
        for two in range(len(nodes))
    }
    return nodes, [table[way] for way in pairwise(route)]


routes = st.lists(st.integers(0, 3), min_size=1, max_size=9)


def cheapest_choice(route, nodes, edges):
    stages = sorted(set(route))
    costs = []
    for pairs in product(*(np.ndindex(nodes[stage].shape) for stage in stages)):
        choice = dict(zip(stages, pairs, strict=True))
        costs.append(cost_of([choice[stage] for stage in route], [nodes[stage] for stage in route], edges))
    return min(costs)


@given(seed=st.integers(0, 10**6), route=routes)
@settings(max_examples=150, deadline=None)
def test_the_bound_is_below_the_best_agreement_and_the_answer_is_not(seed, route):
    nodes, edges = problem(seed, route)
    agreed, best = agree(route, nodes, edges), cheapest_choice(route, nodes, edges)
    assert agreed.free <= best <= agreed.cost
    if agreed.proved:
        assert agreed.cost == best


@given(seed=st.integers(0, 10**6), route=routes)
@settings(max_examples=100, deadline=None)
def test_the_cost_told_is_the_cost_of_the_choice(seed, route):
    nodes, edges = problem(seed, route)
    agreed = agree(route, nodes, edges)
    path = [agreed.choice[stage] for stage in route]
    assert agreed.cost == cost_of(path, [nodes[stage] for stage in route], edges)


@given(seed=st.integers(0, 10**6), route=routes)
@settings(max_examples=60, deadline=None)
def test_persuasion_raises_the_bound_and_never_costs_more(seed, route):
    nodes, edges = problem(seed, route)
    shy, bold, best = (
        agree(route, nodes, edges),
        agree(route, nodes, edges, effort=12),
        cheapest_choice(route, nodes, edges),
    )
    assert shy.free == bold.free <= bold.bound <= best <= bold.cost <= shy.cost
    assert not bold.proved or bold.cost == best


@pytest.mark.parametrize("route", [[0, 1, 2, 0, 1, 2], [0, 1, 2, 0, 3, 1, 0, 2], [0, 1, 0, 1, 2, 0]])
def test_most_songs_get_the_best_agreement_and_nearly_all_of_them_by_persuasion(route):
    # What most visits would take is the best agreement of 12 to 20 songs out of 40; the rest is the runs' taking turns.
    songs = [problem(seed, route) for seed in range(40)]
    best = [cheapest_choice(route, *song) for song in songs]
    for effort, least in ((0, 30), (24, 37)):
        found = [agree(route, *song, effort=effort).cost for song in songs]
        assert sum(map(eq, found, best)) >= least


@pytest.mark.parametrize(
    ("route", "verse"),
    [([3, 0, 1, 2, 4, 0, 1, 2, 5], (0, 1, 2)),  # a verse of three chords, twice
     ([0, 1, 2, 3, 1, 2, 4], (1, 2)),
     ([2, 0, 1, 3, 1, 4], (1,)), ([2, 0, 1, 3, 1, 4], (0,))],  # a chord that comes from two others
)  # fmt: skip
@pytest.mark.parametrize("song", range(20))
def test_a_section_between_its_neighbours_has_no_cheaper_fingering(song, route, verse):
    nodes, edges = problem(song, route, size=3 if len(verse) < 3 else 2)
    agreed = agree(route, nodes, edges)
    for pairs in product(np.ndindex(nodes[0].shape), repeat=len(verse)):
        choice = {**agreed.choice, **dict(zip(verse, pairs, strict=True))}
        other = cost_of([choice[stage] for stage in route], [nodes[stage] for stage in route], edges)
        assert other >= agreed.cost


def test_persuasion_proves_more_songs_than_it_finds_proved():
    route = [0, 1, 2, 0, 3, 1, 0, 2]
    proved = [
        sum(agree(route, *problem(seed, route), effort=effort).proved for seed in range(40)) for effort in (0, 24)
    ]
    assert proved[1] > proved[0]


def test_a_route_that_never_comes_back_is_proved():
    nodes, edges = problem(1, [0, 1, 2, 3])
    assert agree([0, 1, 2, 3], nodes, edges).proved


@pytest.mark.parametrize("times", [25, 40, 43])
def test_what_no_hands_can_hold_stays_so_however_often_a_section_comes(times):
    # 25 times the price of the impossible does not fit 32 bits, and 43 times that comes out as a small price.
    node = np.array([[CEILING, 5], [3, CEILING]], dtype=np.int32)
    step = np.zeros((2, 2), dtype=np.int32), np.zeros((2, 2), dtype=np.int32)
    route, nodes = [0, 1] * times, [node, node]
    table = _Table(route, nodes, [step] * (len(route) - 1), Memory())
    cost, choice = table.improve({0: (0, 1), 1: (0, 1)})
    assert choice == {0: (1, 0), 1: (1, 0)}
    assert cost == 2 * 3 * times


def test_a_section_that_comes_ten_thousand_times_is_still_weighed():
    dear = np.array([[20_000, 19_000]], dtype=np.int32)
    step = np.array([[9_000]], dtype=np.int32), np.zeros((2, 2), dtype=np.int32)
    route = [0, 1] * 10_000
    assert agree(route, [dear, dear], [step] * (len(route) - 1)).proved


def test_what_is_best_between_some_neighbours_is_not_taken_for_the_best_between_others():
    route, run, neighbours = [0, 1, 2, 3, 1, 2, 4], (1, 2), (0, 3, 4)
    last_matters = 0
    for seed in range(20):
        nodes, edges = problem(seed, route)
        table = _Table(route, nodes, edges, Memory())
        found = {}
        for pairs in product(np.ndindex(2, 2), repeat=len(neighbours)):
            choice = dict(zip(neighbours, pairs, strict=True))
            alone = _Table(route, nodes, edges, Memory())
            found[pairs] = table._answered(run, choice)
            assert found[pairs] == alone._answered(run, choice)
        last_matters += any(found[*pairs[:-1], (0, 0)] != best for pairs, best in found.items())
    assert last_matters > 10
