"""The cheapest path through stages whose states are pairs, where each half of the pair pays for its own steps.

Knows no music. With V[l, r] the least cost of arriving in the pair (l, r), one step is

    V'[l', r'] = node'[l', r'] + min over r ( right[r, r'] + min over l ( left[l, l'] + V[l, r] ) )

which takes |L||R|(|L| + |R|) steps instead of |L|²|R|², and is exact over the joint pairs. All costs are whole
numbers, so that no order of adding changes a result; ties fall to the lowest numbers.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Costs = NDArray[np.int32]
Edge = tuple[Costs, Costs]
"""The costs of a step: (left[l, l'], right[r, r'])."""

CEILING = 10**8
"""A cost from here on means: not possible."""


@dataclass(frozen=True, slots=True)
class Arrivals:
    """`costs[t]`: least cost of reaching each pair of stage t, less `offsets[t]`, so that long paths stay within 32
    bits."""

    costs: tuple[Costs, ...]
    offsets: tuple[int, ...]


def min_plus(one: Costs, two: Costs) -> Costs:
    """Return the min-plus product over the first axes: out[i, j] = min over k of one[k, i] + two[k, j]."""
    product: Costs = (one[:, :, None] + two[:, None, :]).min(axis=0)
    return product


def stride(arrived: Costs, edge: Edge) -> Costs:
    """Return the least cost of standing in front of each pair of the next stage."""
    left, right = edge
    return min_plus(np.ascontiguousarray(min_plus(left, arrived).T), right)


def forward(nodes: Sequence[Costs], edges: Sequence[Edge]) -> Arrivals:
    """Return the least costs of arriving: `nodes[t]` of stage t included; `edges[t]` leads from stage t to t + 1.

    Raises:
        ValueError: a stage cannot be reached.
    """
    costs, offsets = [], []
    arrived, offset = nodes[0], 0
    for number, node in enumerate(nodes):
        if number:
            arrived = stride(arrived, edges[number - 1]) + node
        least = int(arrived.min())
        if least >= CEILING:
            raise ValueError(f"stage {number} cannot be reached")
        arrived = np.minimum(arrived - np.int32(least), CEILING)
        offset += least
        costs.append(arrived)
        offsets.append(offset)
    return Arrivals(tuple(costs), tuple(offsets))


def backward(nodes: Sequence[Costs], edges: Sequence[Edge]) -> Arrivals:
    """Return the least costs of going on to the end from each pair, its own node excluded, less the offsets."""
    costs, offsets = [np.zeros_like(nodes[-1])], [0]
    ahead, offset = costs[0], 0
    for node, (left, right) in zip(nodes[:0:-1], list(edges)[::-1], strict=True):
        back = (np.ascontiguousarray(left.T), np.ascontiguousarray(right.T))
        ahead = stride(np.minimum(ahead + node, CEILING), back)
        least = int(ahead.min())
        ahead = np.minimum(ahead - np.int32(least), CEILING)
        offset += least
        costs.append(ahead)
        offsets.append(offset)
    return Arrivals(tuple(costs[::-1]), tuple(offsets[::-1]))


def trace(arrivals: Arrivals, edges: Sequence[Edge]) -> tuple[tuple[int, int], ...]:
    """Return the pairs of the cheapest path, first to last."""
    pair = _lowest(arrivals.costs[-1])
    path = [pair]
    for arrived, (left, right) in zip(arrivals.costs[-2::-1], list(edges)[::-1], strict=True):
        pair = _lowest(arrived + left[:, pair[0]][:, None] + right[:, pair[1]][None, :])
        path.append(pair)
    return tuple(path[::-1])


def cheapest(nodes: Sequence[Costs], edges: Sequence[Edge]) -> tuple[int, tuple[tuple[int, int], ...]]:
    """Return the least cost and its path.

    Raises:
        ValueError: a stage cannot be reached.
    """
    arrivals = forward(nodes, edges)
    return arrivals.offsets[-1], trace(arrivals, edges)


def cost_of(path: Sequence[tuple[int, int]], nodes: Sequence[Costs], edges: Sequence[Edge]) -> int:
    """Return what a path costs."""
    total = sum(int(node[pair]) for node, pair in zip(nodes, path, strict=True))
    steps = zip(edges, path, path[1:], strict=False)
    return total + sum(int(left[a[0], b[0]]) + int(right[a[1], b[1]]) for (left, right), a, b in steps)


def _lowest(costs: Costs) -> tuple[int, int]:
    left, right = divmod(int(costs.argmin()), costs.shape[1])
    return left, right
