"""The planner against its floor and its peers, in one run: python -m tests.bench.planner

A song of 64 changes with both hands' fingers is planned by the separable recurrence, and the same joint graph by
three peers: dense min-plus over all joint pairs (numpy), scipy's sparse shortest path, and networkx on a shorter
song, scaled by its edges. Every peer must find the same least cost. Figures are ratios within the run; machines are
noisy.
"""

import gc
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import networkx
import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from engine.hand import comfort, finger_choice
from engine.planning import planner, shift_costs, states, voicing_costs
from engine.planning.alternatives import alternatives
from engine.planning.cheapest import CEILING, Costs, Edge, cheapest
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.song.model import Pin, Step
from engine.song.reader import read_song
from engine.song.transposing import transpose
from engine.song.unfolding import unfold
from engine.voicing import methods, stacking
from tests.bench.songs import long_song, song

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "setlists/songs/low-tide-lantern.toml"


def best(job: Callable[[], object], times: int = 5, before: Callable[[], object] = lambda: None) -> float:
    """Return the seconds of the quickest of some runs; what is done `before` each is not counted."""
    found = []
    for _ in range(times):
        before()
        gc.collect()
        start = time.perf_counter()
        job()
        found.append(time.perf_counter() - start)
    return min(found)


def forget() -> None:
    """Empty every memory of the planner, as in a process that has just started."""
    for memory in (
        comfort._pair_points, finger_choice._pairs, voicing_costs._table, states._known, shift_costs._known,
        stacking.close, stacking.ordered, methods.shapes, planner.solved,
    ):  # fmt: skip
        memory.cache_clear()
    planner.MEMORY.forget()


def forget_paths() -> None:
    """Empty the memories of whole songs: chords and shifts stay known, the way through them is to be found."""
    planner.solved.cache_clear()
    planner.MEMORY.forget()


def graph_of(steps: tuple[Step, ...], request: Request) -> tuple[list[Costs], list[Edge]]:
    problem, _ = planner.solved(steps, replace(request, share_passes=False))
    return problem.nodes, problem.edges()[:-1]


def dense(nodes: list[Costs], edges: list[Edge]) -> int:
    """Return the least cost by min-plus over all joint pairs at once."""
    arrived = nodes[0].reshape(-1).astype(np.int64)
    for (left, right), node in zip(edges, nodes[1:], strict=True):
        ahead = np.full(node.size, CEILING, dtype=np.int64)
        for pair, cost in enumerate(arrived):
            one, two = divmod(pair, right.shape[0])
            if cost < CEILING:
                np.minimum(ahead, cost + (left[one][:, None] + right[two][None, :]).reshape(-1), out=ahead)
        arrived = np.minimum(ahead + node.reshape(-1), CEILING)
        arrived[node.reshape(-1) >= CEILING] = CEILING
    return int(arrived.min())


def joint_edges(nodes: list[Costs], edges: list[Edge]) -> tuple[np.ndarray, np.ndarray, np.ndarray, int]:
    """Return rows, columns and weights of the explicit graph, a source first and a sink last, and its size."""
    pairs = [np.argwhere(node < CEILING) for node in nodes]
    starts = np.cumsum([1, *(len(found) for found in pairs)])
    rows, columns = [np.zeros(len(pairs[0]), int)], [starts[0] + np.arange(len(pairs[0]))]
    # A weight of nothing would be no edge to scipy: every step into a pair costs one more, taken off again at the end.
    weights = [nodes[0][tuple(pairs[0].T)] + 1]
    for stage, (left, right) in enumerate(edges):
        one, two = pairs[stage], pairs[stage + 1]
        cost = left[one[:, :1], two[:, 0]] + right[one[:, 1:], two[:, 1]] + nodes[stage + 1][tuple(two.T)][None, :] + 1
        rows.append(np.repeat(starts[stage] + np.arange(len(one)), len(two)))
        columns.append(np.tile(starts[stage + 1] + np.arange(len(two)), len(one)))
        weights.append(cost.reshape(-1))
    sink = int(starts[-1])
    rows.append(starts[-2] + np.arange(len(pairs[-1])))
    columns.append(np.full(len(pairs[-1]), sink))
    weights.append(np.ones(len(pairs[-1]), int))
    return np.concatenate(rows), np.concatenate(columns), np.concatenate(weights), sink + 1


def by_scipy(nodes: list[Costs], edges: list[Edge]) -> int:
    rows, columns, weights, size = joint_edges(nodes, edges)
    graph = csr_array((weights.astype(float), (rows, columns)), shape=(size, size))
    return round(dijkstra(graph, indices=0)[size - 1]) - len(nodes) - 1


def by_networkx(nodes: list[Costs], edges: list[Edge]) -> int:
    rows, columns, weights, size = joint_edges(nodes, edges)
    graph = networkx.DiGraph()
    graph.add_weighted_edges_from(zip(rows.tolist(), columns.tolist(), weights.tolist(), strict=True))
    return networkx.dijkstra_path_length(graph, 0, size - 1) - len(nodes) - 1


def floor(sizes: list[tuple[int, int]]) -> Callable[[], None]:
    """Return the bare recurrence on matrices of the same sizes: two min-plus products a step and nothing else."""
    chance = np.random.default_rng(1)
    nodes = [chance.integers(0, 99, size).astype(np.int32) for size in sizes]
    edges = [
        tuple(chance.integers(0, 99, (one[hand], two[hand])).astype(np.int32) for hand in (0, 1))
        for one, two in pairwise(sizes)
    ]

    def run() -> None:
        arrived = nodes[0]
        for (left, right), node in zip(edges, nodes[1:], strict=True):
            passed = (left[:, :, None] + arrived[:, None, :]).min(axis=0)
            arrived = (passed.T[:, :, None] + right[:, None, :]).min(axis=0) + node

    return run


def row(name: str, seconds: float, against: float, unit: str = "x") -> None:
    print(f"  {name:<58} {1000 * seconds:10.1f} ms {against:10.2f} {unit}")


def peers(request: Request, title: str) -> None:
    steps = unfold(song(64))
    nodes, edges = graph_of(steps, request)
    left, right = (sum(node.shape[hand] for node in nodes) // len(nodes) for hand in (0, 1))
    print(f"{title}: 64 changes, {left} by {right} states a chord")
    least, _ = cheapest(nodes, edges)
    ours = best(lambda: cheapest(nodes, edges))
    row("the recurrence with its path, on finished matrices", ours, 1.0)
    assert dense(nodes, edges) == least
    slow = best(lambda: dense(nodes, edges), 1)
    row("dense min-plus over the joint pairs", slow, slow / ours, "x the recurrence (goal at least 10)")
    assert by_scipy(nodes, edges) == least
    slow = best(lambda: by_scipy(nodes, edges), 1)
    row("scipy's sparse shortest path with the graph's building", slow, slow / ours, "x (goal at least 500)")
    few = 6
    short, _ = cheapest(nodes[:few], edges[: few - 1])
    assert by_networkx(nodes[:few], edges[: few - 1]) == short
    start = time.perf_counter()
    by_networkx(nodes[:few], edges[: few - 1])
    slow = (
        (time.perf_counter() - start)
        * len(joint_edges(nodes, edges)[0])
        / len(joint_edges(nodes[:few], edges[: few - 1])[0])
    )
    row("networkx, scaled from 6 changes", slow, slow / ours, "x (goal at least 2,000)")
    bare = best(floor([node.shape for node in nodes]))
    warm = best(lambda: plan(steps, request), before=forget_paths)
    row("the floor: bare recurrence on the same sizes", bare, 1.0)
    row("a whole plan, its chords and shifts known", warm, warm / bare, "x the floor (goal at most 3)")
    forget()
    start = time.perf_counter()
    plan(steps, request)
    cold = time.perf_counter() - start
    row("a whole plan, everything forgotten", cold, cold / bare, "x the floor")


def whole_graph(stages: int = 16) -> None:
    """Weigh the recurrence against scipy's search where every pair of every stage is possible."""
    print(f"A graph without gaps: {stages} stages of 24 by 28 states, costs by chance")
    chance = np.random.default_rng(1)
    nodes = [chance.integers(0, 9999, (24, 28)).astype(np.int32) for _ in range(stages)]
    edges = [tuple(chance.integers(0, 9999, (size, size)).astype(np.int32) for size in (24, 28)) for _ in nodes[1:]]
    ours = best(lambda: cheapest(nodes, edges))
    row("the recurrence with its path", ours, 1.0)
    assert by_scipy(nodes, edges) == cheapest(nodes, edges)[0]
    slow = best(lambda: by_scipy(nodes, edges), 1)
    row("scipy's sparse shortest path with the graph's building", slow, slow / ours, "x (goal at least 500)")


def uses(request: Request) -> None:
    print("In use (method auto)")
    tune = song(64)
    steps = unfold(tune)
    forget()
    one = best(lambda: plan(steps, request), 1)
    row("one key, everything forgotten", one, 1.0)
    keys = ["C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"]
    forget()
    twelve = best(lambda: [plan(unfold(transpose(tune, key)), request) for key in keys], 1)
    row("twelve keys, everything forgotten", twelve, twelve / one, "x one key (goal at most 4)")
    again = best(lambda: plan(steps, request), before=planner.solved.cache_clear)
    row("the same song once more", again, again / one, "x the first time")
    with_pins(steps, request)
    print("In use, a song of the demo set whose sections come again and share their fingering")
    with_pins(unfold(read_song(DEMO.read_text(encoding="utf-8"), DEMO.name)), request)


def with_pins(steps: tuple[Step, ...], request: Request, places: int = 12) -> None:
    """Weigh a plan with a pin, the next best voicing at one of some places, against a first plan."""
    pins = [pin_at(steps, request, index) for index in range(2, len(steps), len(steps) // places)]
    forget()
    first = best(lambda: plan(steps, request), 1)
    row(f"{len(steps)} changes, everything forgotten", first, 1.0)
    pinned = [best(lambda pin=pin: plan(steps, replace(request, pins=(pin,))), 1) for pin in pins]
    mean = sum(pinned) / len(pinned)
    row(f"the same with a pin, the mean of {len(pins)} places", mean, mean / first, "x (goal under 0.1)")


def pin_at(steps: tuple[Step, ...], request: Request, index: int) -> Pin:
    other, place = alternatives(steps, request, index, 2)[1], steps[index]
    return Pin(place.section, place.bar, place.beat, other.left, other.right)


def length(request: Request) -> None:
    print("Length (method auto)")
    base = 0.0
    for changes in (100, 1000, 10_000):
        steps = long_song(changes)
        start = time.perf_counter()
        plan(steps, request)
        each = (time.perf_counter() - start) / changes
        base = base or each
        row(f"{changes} changes, each", each, each / base, "x a change of the shortest")
    command = [sys.executable, "-m", "tests.bench.songs"]
    print(subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout, end="")


def imports() -> None:
    code = "import time; s=time.perf_counter(); import {0}; print(time.perf_counter()-s)"
    for module in (
        "engine.planning.model, engine.song.reader, engine.chord.symbol",
        "engine.planning.planner",
        "numpy",
    ):
        done = subprocess.run(
            [sys.executable, "-c", code.format(module)], cwd=ROOT, capture_output=True, text=True, check=True
        )
        print(f"  import {module:<60} {1000 * float(done.stdout):7.0f} ms")


def main() -> None:
    peers(Request(method="shell"), "Method shell")
    peers(Request(method="auto"), "Method auto")
    whole_graph()
    uses(Request(method="auto"))
    length(Request(method="auto"))
    print("Imports (goal for the engine alone under 150 ms)")
    imports()


if __name__ == "__main__":
    main()
