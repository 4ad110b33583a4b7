"""The cheapest closed path: a vamp whose last chord goes back to its first, planned so that going round costs least.

Knows no music. Every pair of the first stage has a bound: the cheapest way on from it to the end, and the cheapest
way back into it from anywhere. Tried in the order of their bounds, each by one chain that starts and ends there,
until no bound is below the best.
"""

from collections.abc import Sequence

import numpy as np

from engine.planning.cheapest import CEILING, Costs, Edge, Pair, backward, forward, trace


def cheapest_loop(nodes: Sequence[Costs], edges: Sequence[Edge], closing: Edge) -> tuple[int, tuple[Pair, ...]]:
    """Return the least cost of going round once and the path, exact; `closing` leads from the last stage to the first.

    Ties fall to the pair of the first stage with the lowest bound, then the lowest numbers.

    Raises:
        ValueError: a stage cannot be reached.
    """
    on = backward(nodes, edges)
    left, right = closing
    back = left.min(axis=0)[:, None] + right.min(axis=0)[None, :]
    bounds = nodes[0].astype(np.int64) + on.costs[0] + on.offsets[0] + back
    best = CEILING * len(nodes)
    path: tuple[Pair, ...] = ()
    for number in np.argsort(bounds, axis=None, kind="stable").tolist():
        first = divmod(number, nodes[0].shape[1])
        if bounds[first] >= best or nodes[0][first] >= CEILING:
            break
        cost, found = _from(first, nodes, edges, closing)
        if cost < best:
            best, path = cost, found
    if not path:
        raise ValueError("no loop is possible")
    return best, path


def _from(first: Pair, nodes: Sequence[Costs], edges: Sequence[Edge], closing: Edge) -> tuple[int, tuple[Pair, ...]]:
    """Return the cheapest loop through one pair of the first stage."""
    start = np.full_like(nodes[0], CEILING)
    start[first] = nodes[0][first]
    arrivals = forward([start, *nodes[1:]], edges)
    left, right = closing
    last = arrivals.costs[-1] + left[:, first[0]][:, None] + right[:, first[1]][None, :]
    closed = type(arrivals)((*arrivals.costs[:-1], last), arrivals.offsets)
    return int(last.min()) + arrivals.offsets[-1], trace(closed, edges)
