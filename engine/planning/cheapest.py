"""The cheapest path through stages whose states are pairs, where each half of the pair pays for its own steps.

Knows no music. With V[l, r] the least cost of arriving in the pair (l, r), one step is

    V'[l', r'] = node'[l', r'] + min over r ( right[r, r'] + min over l ( left[l, l'] + V[l, r] ) )

which takes |L||R|(|L| + |R|) steps instead of |L|²|R|², and is exact over the joint pairs. All costs are whole
numbers, so that no order of adding changes a result; ties fall to the lowest numbers.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Costs = NDArray[np.int32]
Pair = tuple[int, int]
"""Numbers of a left and a right half."""

Edge = tuple[Costs, Costs]
"""The costs of a step: (left[l, l'], right[r, r'])."""

Path = tuple[tuple[int, int], ...]
"""The pair of each stage, first to last."""

AT_ONCE = 500
"""Stages whose arrivals are kept in memory together."""

CEILING = 10**8
"""A cost from here on means: not possible. No sum of real costs comes near, and four of it still fit 32 bits."""


@dataclass(frozen=True, slots=True)
class Arrivals:
    """`costs[t]`: least cost of reaching each pair of stage t, less `offsets[t]`: so long paths fit 32 bits."""

    costs: tuple[Costs, ...]
    offsets: tuple[int, ...]


def min_plus(one: Costs, two: Costs) -> Costs:
    """Return the min-plus product over the first axes: out[i, j] = min over k of one[k, i] + two[k, j]."""
    product: Costs = np.minimum.reduce(one[:, :, None] + two[:, None, :], axis=0)
    return product


def stride(arrived: Costs, edge: Edge) -> Costs:
    """Return the least cost of standing in front of each pair of the next stage."""
    left, right = edge
    # Right halves before, left halves after: the left hand has gone, the right one not yet.
    return min_plus(min_plus(arrived, left), right)


def arrival(arrived: Costs, edge: Edge, node: Costs) -> tuple[Costs, int]:
    """Return the least cost of arriving in each pair of the next stage, less the least of all, and that."""
    costs = stride(arrived, edge) + node
    least = int(costs.min())
    return np.minimum(costs - np.int32(least), CEILING), least


Arrive = Callable[[Costs, Edge, Costs], tuple[Costs, int]]
"""`arrival`, or what remembers it."""


def forward(nodes: Sequence[Costs], edges: Sequence[Edge], arrive: Arrive = arrival) -> Arrivals:
    """Return the least costs of arriving: `nodes[t]` of stage t included; `edges[t]` leads from stage t to t + 1.

    Raises:
        ValueError: a stage cannot be reached.
    """
    costs, offsets = [nodes[0]], [0]
    least = int(nodes[0].min())
    for number, node in enumerate(nodes):
        if number:
            arrived, least = arrive(costs[-1], edges[number - 1], node)
            costs.append(arrived)
            offsets.append(offsets[-1] + least)
        if least >= CEILING:
            raise ValueError(f"stage {number} cannot be reached")
    return Arrivals(tuple(costs), tuple(offsets))


def backward(nodes: Sequence[Costs], edges: Sequence[Edge]) -> Arrivals:
    """Return the least costs of going on to the end from each pair, its own node excluded, less the offsets."""
    costs, offsets = [np.zeros_like(nodes[-1])], [0]
    ahead, offset = costs[0], 0
    for number in range(len(nodes) - 1, 0, -1):
        left, right = edges[number - 1]
        back = (np.ascontiguousarray(left.T), np.ascontiguousarray(right.T))
        ahead = stride(np.minimum(ahead + nodes[number], CEILING), back)
        least = int(ahead.min())
        ahead = np.minimum(ahead - np.int32(least), CEILING)
        offset += least
        costs.append(ahead)
        offsets.append(offset)
    return Arrivals(tuple(costs[::-1]), tuple(offsets[::-1]))


def trace(arrivals: Arrivals, edges: Sequence[Edge], last: tuple[int, int] | None = None) -> Path:
    """Return the pairs of the cheapest path, first to last, that ends in `last` (none given: where it is cheapest)."""
    pair = last if last is not None else _lowest(arrivals.costs[-1])
    path = [pair]
    for arrived, (left, right) in zip(arrivals.costs[-2::-1], list(edges)[::-1], strict=True):
        pair = _lowest(arrived + left[:, pair[0]][:, None] + right[:, pair[1]][None, :])
        path.append(pair)
    return tuple(path[::-1])


def cheapest(nodes: Sequence[Costs], edges: Sequence[Edge], arrive: Arrive = arrival) -> tuple[int, Path]:
    """Return the least cost and its path.

    A path longer than `AT_ONCE` stages is walked twice: once keeping what arrives at every so many stages, then
    stretch by stretch from the last one back, so that memory grows with a stretch and not with the path.

    Raises:
        ValueError: a stage cannot be reached.
    """
    ends = [*range(0, len(nodes) - 1, AT_ONCE), len(nodes) - 1]
    arrived, total = nodes[0], 0
    kept = []
    for begin, end in pairwise(ends) if len(nodes) > 1 else [(0, 0)]:
        kept.append((begin, end, arrived))
        found = forward([arrived, *nodes[begin + 1 : end + 1]], edges[begin:end], arrive)
        arrived, total = found.costs[-1], total + found.offsets[-1]
    path: Path = ()
    for begin, end, start in reversed(kept):
        if end < len(nodes) - 1:
            found = forward([start, *nodes[begin + 1 : end + 1]], edges[begin:end], arrive)
        path = trace(found, edges[begin:end], path[0] if path else None)[: end - begin + (not path)] + path
    return total + int(arrived.min()), path


def cost_of(path: Sequence[tuple[int, int]], nodes: Sequence[Costs], edges: Sequence[Edge]) -> int:
    """Return what a path costs."""
    total = sum(int(node[pair]) for node, pair in zip(nodes, path, strict=True))
    steps = zip(edges, path, path[1:], strict=False)
    return total + sum(int(left[a[0], b[0]]) + int(right[a[1], b[1]]) for (left, right), a, b in steps)


def _lowest(costs: Costs) -> tuple[int, int]:
    left, right = divmod(int(costs.argmin()), costs.shape[1])
    return left, right
