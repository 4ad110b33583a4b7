"""A memory changes what a plan takes, never the plan: a change walks only what it can touch."""

from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.planning import path_cache as memories
from engine.planning.cheapest import arrival, cheapest, forward
from engine.planning.passes import agree
from engine.planning.path_cache import Memory


def song(seed: int, route: list[int], size: int = 4):
    """Random costs of the stages of a route, and of every shift along it."""
    chance = np.random.default_rng(seed)
    nodes = [chance.integers(0, 9, (size, size)).astype(np.int32) for _ in range(max(route) + 1)]
    ways = {
        way: tuple(chance.integers(0, 9, (size, size)).astype(np.int32) for _ in range(2)) for way in pairwise(route)
    }
    return nodes, [ways[way] for way in pairwise(route)]


def changed(nodes, stage: int):
    """The same costs, but for one stage that is dearer by its numbers."""
    stage %= len(nodes)
    dearer = np.arange(nodes[stage].size, dtype=np.int32).reshape(nodes[stage].shape)
    return [node + dearer if number == stage else node for number, node in enumerate(nodes)]


class Counted(Memory):
    """Counts the strides that are walked."""

    walks = 0

    def _arrival(self, *stride):
        self.walks += 1
        return super()._arrival(*stride)


routes = st.lists(st.integers(0, 4), min_size=1, max_size=12)


@given(
    seed=st.integers(0, 10**6), route=routes, stages=st.lists(st.integers(0, 4), max_size=4), effort=st.integers(0, 4)
)
@settings(max_examples=150, deadline=None)
def test_a_song_planned_after_others_like_it_is_planned_as_if_it_were_the_first(seed, route, stages, effort):
    nodes, edges = song(seed, route)
    memory = Memory()
    for stage in [max(route), *stages, max(route)]:
        now = changed(nodes, stage)
        assert agree(route, now, edges, effort=effort, memory=memory) == agree(route, now, edges, effort=effort)


@given(seed=st.integers(0, 10**6))
@settings(max_examples=30, deadline=None)
def test_what_arrives_is_the_same_with_a_memory_and_without(seed):
    nodes, edges = song(seed, list(range(9)))
    memory = Memory()
    for stage in (8, 3, 3, 5):
        now = changed(nodes, stage)
        known, fresh = forward(now, edges, arrive=memory.arrival), forward(now, edges, arrive=arrival)
        assert known.offsets == fresh.offsets
        assert all(np.array_equal(*costs) for costs in zip(known.costs, fresh.costs, strict=True))


def test_a_change_walks_from_its_place_until_all_paths_have_met_again():
    nodes, edges = song(7, list(range(200)))
    memory = Counted()
    cheapest(nodes, edges, arrive=memory.arrival)
    assert memory.walks == 199
    cheapest(changed(nodes, 50), edges, arrive=memory.arrival)
    assert memory.walks < 199 + 30, "a few strides on, the same pair is on every path"
    before = memory.walks
    cheapest(nodes, edges, arrive=memory.arrival)
    assert memory.walks == before, "the first song is still known"


def test_a_vamp_is_walked_once_for_all_its_rounds():
    nodes, edges = song(3, [0, 1, 2, 3] * 50)
    memory = Counted()
    cheapest([nodes[stage] for stage in [0, 1, 2, 3] * 50], edges, arrive=memory.arrival)
    assert memory.walks < 40


def test_a_memory_that_is_full_starts_again(monkeypatch):
    monkeypatch.setattr(memories, "MOST", 10)
    nodes, edges = song(5, list(range(60)))
    memory = Counted()
    assert cheapest(nodes, edges, arrive=memory.arrival) == cheapest(nodes, edges)
    assert len(memory._found) <= 10
