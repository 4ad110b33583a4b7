"""One section, one fingering: the cheapest path that takes the same pair wherever the same written event comes again.

Knows no music. A route visits stages by number, some more than once. Every visit of its own is free to choose: that
is `cheapest`, a lower bound. Here all visits of a stage agree. Stages that always follow one another form a run; a
run between fixed neighbours is a chain again and solved exactly, all its visits at once; the runs take turns until
nothing gets cheaper.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.planning.cheapest import CEILING, Costs, Edge, Pair, Path, cheapest, cost_of
from engine.planning.path_cache import Memory

PERSUASIONS = 24
"""How often visits that stand alone are persuaded at most (own choice: time against proof)."""

ROUNDS = 8
"""Turns that the runs take at most; measured on real songs the second is nearly always the last."""

MOST_VISITS = 500
"""Visits of a run whose costs are added up to the grain; those of more are scaled down, so that they fit 32 bits."""


@dataclass(frozen=True, slots=True)
class Agreed:
    """`choice[stage]` is the pair at every visit of a stage; `cost` that of the whole route; `free` the least cost
    with every visit free to choose; `bound` what no agreement can go below."""

    choice: dict[int, Pair]
    cost: int
    free: int
    bound: int

    @property
    def proved(self) -> bool:
        """True when no agreement can be cheaper."""
        return self.cost == self.bound


def agree(
    route: Sequence[int],
    nodes: Sequence[Costs],
    edges: Sequence[Edge],
    effort: int = 0,
    memory: Memory | None = None,
) -> Agreed:
    """Return the best agreement found. `route` lists the stage of each visit, `nodes[stage]` the costs of its pairs.

    `effort` is how often the visits are persuaded at most, to find better agreements and to raise the bound; `memory`
    spares finding again what songs have in common.

    Raises:
        ValueError: a stage cannot be reached.
    """
    memory = memory or Memory()
    free, path = cheapest([nodes[stage] for stage in route], edges, memory.arrival)
    if len(set(route)) == len(route):
        return Agreed(dict(zip(route, path, strict=True)), free, free, free)
    table = _Table(route, nodes, edges, memory)
    cost, choice = table.improve(table.majority(path))
    found = Agreed(choice, cost, free, free)
    return table.persuade(found, path, effort) if effort else found


class _Table:
    """The route cut into runs, with all that a run needs to be solved between fixed neighbours."""

    def __init__(
        self,
        route: Sequence[int],
        nodes: Sequence[Costs],
        edges: Sequence[Edge],
        memory: Memory,
    ) -> None:
        self.route, self.nodes, self.edges, self.memory = route, nodes, edges, memory
        self.runs = _runs(route)
        self.visits: dict[int, list[int]] = {}
        for visit, stage in enumerate(route):
            self.visits.setdefault(stage, []).append(visit)

    def improve(self, choice: dict[int, Pair]) -> tuple[int, dict[int, Pair]]:
        """Let the runs take turns from a first choice; return the cost and the choice."""
        cost = self.cost(choice)
        for _ in range(ROUNDS):
            before = cost
            for run in self.runs:
                tried = {**choice, **self._answered(run, choice)}
                if tried != choice and (better := self.cost(tried)) < cost:
                    cost, choice = better, tried
            if cost == before:
                break
        return cost, choice

    def persuade(self, found: Agreed, path: Sequence[Pair], effort: int) -> Agreed:
        """Charge each visit for standing alone and pay it for joining the others, until bound and cost meet or effort
        ends.

        What the visits of a stage are charged for a pair adds up to nothing, so the cheapest free path at these
        prices never costs more than the best agreement: a bound. (Lagrangian relaxation, the step after Polyak.)
        """
        prices = {visit: np.zeros_like(self.nodes[stage]) for stage in self.visits for visit in self._shared(stage)}
        for _ in range(effort):
            if found.proved:
                break
            alone = self._reprice(prices, path, found.cost - found.bound)
            if not alone:
                break
            priced = [self.nodes[stage] + prices.get(visit, 0) for visit, stage in enumerate(self.route)]
            bound, path = cheapest(priced, self.edges)
            cost, choice = found.cost, found.choice
            tried = self.majority(path)
            if self.cost(tried) < cost + (cost - found.bound):
                cost, choice = min((cost, choice), self.improve(tried), key=lambda pair: pair[0])
            found = Agreed(choice, cost, found.free, max(found.bound, bound))
        return found

    def _shared(self, stage: int) -> list[int]:
        return self.visits[stage] if len(self.visits[stage]) > 1 else []

    def _reprice(self, prices: dict[int, Costs], path: Sequence[Pair], gap: int) -> int:
        """Move the prices one step; return how many visits stand alone."""
        apart = [visits for visits in map(self._shared, self.visits) if len({path[visit] for visit in visits}) > 1]
        length = sum(_disagreement([path[visit] for visit in visits]) for visits in apart)
        for visits in apart:
            step = max(1, round(gap / length / len(visits)))
            for pair in {path[visit] for visit in visits}:
                many = sum(path[visit] == pair for visit in visits)
                for visit in visits:
                    prices[visit][pair] += step * (len(visits) * (path[visit] == pair) - many)
        return len(apart)

    def majority(self, path: Sequence[Pair]) -> dict[int, Pair]:
        """Return for each stage the pair that most of its visits chose, the earliest among equals."""
        chosen = {stage: [path[visit] for visit in visits] for stage, visits in self.visits.items()}
        return {stage: max(pairs, key=pairs.count) for stage, pairs in chosen.items()}

    def cost(self, choice: dict[int, Pair]) -> int:
        """Return what a choice costs along the whole route."""
        return cost_of([choice[stage] for stage in self.route], [self.nodes[stage] for stage in self.route], self.edges)

    def _answered(self, run: tuple[int, ...], choice: dict[int, Pair]) -> dict[int, Pair]:
        """Return what is best for a run between its neighbours."""
        before = [visit - 1 for visit in self.visits[run[0]] if visit]
        after = [visit for visit in self.visits[run[-1]] if visit + 1 < len(self.route)]
        neighbours = *(self.route[visit] for visit in before), *(self.route[visit + 1] for visit in after)
        around = *before, *after, *(self.visits[stage][0] for stage in run[:-1])
        costs = *(self.nodes[stage] for stage in run), *(cost for visit in around for cost in self.edges[visit])
        asked = len(self.visits[run[0]]), len(before), *(choice[stage] for stage in neighbours)
        path = self.memory.find(costs, asked, lambda: self._solved(run, choice))
        return dict(zip(run, path, strict=True))

    def _solved(self, run: tuple[int, ...], choice: dict[int, Pair]) -> Path:
        times = len(self.visits[run[0]])
        share = -(-times // MOST_VISITS)
        nodes = [_over(self.nodes[stage], times, share) for stage in run]
        nodes[0] = nodes[0] + self._before(run[0], choice) // np.int32(share)
        nodes[-1] = nodes[-1] + self._after(run[-1], choice) // np.int32(share)
        inner = [self.edges[self.visits[stage][0]] for stage in run[:-1]]
        edges = [(_over(left, times, share), _over(right, times, share)) for left, right in inner]
        return cheapest(nodes, edges)[1]

    def _before(self, stage: int, choice: dict[int, Pair]) -> Costs:
        """Return what coming from the fixed neighbours costs each pair, over all visits."""
        total = np.zeros_like(self.nodes[stage])
        for visit in self.visits[stage]:
            if visit:
                left, right = self.edges[visit - 1]
                one, two = choice[self.route[visit - 1]]
                total += left[one, :][:, None] + right[two, :][None, :]
        return total

    def _after(self, stage: int, choice: dict[int, Pair]) -> Costs:
        total = np.zeros_like(self.nodes[stage])
        for visit in self.visits[stage]:
            if visit + 1 < len(self.route):
                left, right = self.edges[visit]
                one, two = choice[self.route[visit + 1]]
                total += left[:, one][:, None] + right[:, two][None, :]
        return total


def _over(costs: Costs, times: int, share: int) -> Costs:
    """Return costs times a number, divided by another; what is impossible once stays so, and does not leave 32 bits."""
    if times == 1:
        return costs
    many = np.minimum(costs.astype(np.int64) * times // share, CEILING)
    return many.astype(np.int32)


def _disagreement(pairs: Sequence[Pair]) -> float:
    """Return the squared length of the step that would bring equal charges: 0 when all agree."""
    return sum(pairs.count(pair) * (1 - pairs.count(pair) / len(pairs)) for pair in set(pairs))


def _runs(route: Sequence[int]) -> list[tuple[int, ...]]:
    """Cut a route into its longest runs of stages that always follow one another, by their first visit."""
    follow: dict[int, set[int]] = {}
    lead: dict[int, set[int]] = {}
    for one, two in zip([-1, *route], [*route, -1], strict=True):
        follow.setdefault(one, set()).add(two)
        lead.setdefault(two, set()).add(one)
    runs: list[list[int]] = []
    for stage in dict.fromkeys(route):
        previous = next(iter(lead[stage])) if len(lead[stage]) == 1 else -1
        if previous != -1 and previous != stage and follow[previous] == {stage} and runs and runs[-1][-1] == previous:
            runs[-1].append(stage)
        else:
            runs.append([stage])
    return [tuple(run) for run in runs]
