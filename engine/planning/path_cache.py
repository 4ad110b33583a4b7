"""What was found from costs before: a path is walked, and a run solved, only where it differs from earlier ones.

Knows no music. Costs are told apart by identity, and what arrives at the same costs is one array: some stages after the
place that differs all paths come through one pair, and from there on everything is known.
"""

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

import numpy as np

from engine.planning.cheapest import Costs, Edge, arrival

MOST = 1024
"""Findings that are remembered, before all are forgotten (own choice)."""

Found = TypeVar("Found")


class Memory:
    """Remembers what was found from costs that are never changed in place."""

    def __init__(self) -> None:
        self._found: dict[Hashable, tuple[Any, tuple[Costs, ...]]] = {}
        self._arrived: dict[tuple[int, int], Costs] = {}

    def find(self, costs: tuple[Costs, ...], asked: Hashable, find: Callable[[], Found]) -> Found:
        """Return what `find` finds from these costs for what is `asked`, found once."""
        key = (asked, *map(id, costs))
        if key not in self._found:
            if len(self._found) >= MOST:
                self.forget()
            # What a finding was made of is kept with it, so that no other array can come by its identity.
            self._found[key] = (find(), costs)
        found: Found = self._found[key][0]
        return found

    def arrival(self, arrived: Costs, edge: Edge, node: Costs) -> tuple[Costs, int]:
        """Return what `cheapest.arrival` does."""
        return self.find((arrived, node, *edge), "arrival", lambda: self._arrival(arrived, edge, node))

    def _arrival(self, arrived: Costs, edge: Edge, node: Costs) -> tuple[Costs, int]:
        costs, least = arrival(arrived, edge, node)
        like = self._arrived.setdefault((id(node), hash(costs.tobytes())), costs)
        return (like if np.array_equal(like, costs) else costs), least

    def forget(self) -> None:
        """Forget all."""
        self._found.clear()
        self._arrived.clear()
