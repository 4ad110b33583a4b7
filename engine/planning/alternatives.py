"""This voicing instead: what every other voicing of a chord would cost the whole song.

For a song in which no written chord comes twice the prices are min-marginals, exact: the least cost of any plan
through the voicing, less that of the best plan. Where passes share their fingering, each of the likeliest voicings is
fixed and the song planned again.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.planning.cheapest import CEILING, Costs, backward, forward
from engine.planning.model import Request
from engine.planning.passes import Agreed, agree
from engine.planning.planner import MEMORY, solved
from engine.planning.problem import Problem
from engine.planning.states import States
from engine.planning.weights import GRAIN
from engine.song.model import Step
from engine.theory.pitch import spelled
from engine.voicing.stacking import Keys
from engine.voicing.tones import degree_of


@dataclass(frozen=True, slots=True)
class Alternative:
    """A voicing with the fingers it would be played with; `price` is the effort it adds to the song, 0.0 for the
    plan's own.

    Keys are MIDI numbers, ascending; `names` are all of them spelled, low to high.
    """

    left: Keys
    right: Keys
    left_fingers: tuple[int, ...]
    right_fingers: tuple[int, ...]
    names: tuple[str, ...]
    method: str
    price: float


def alternatives(steps: Sequence[Step], request: Request, index: int, most: int = 12) -> tuple[Alternative, ...]:
    """Return up to `most` voicings of the chord at step `index`, the plan's own first, then by price.

    Raises:
        NoGrip: not one chord of the song fits the hands.
        IndexError: no such step.
    """
    problem, agreed = solved(tuple(steps), request)
    number = problem.route[index]
    if problem.stages[number].chord is None:
        return ()
    groups = _voicings(problem.stages[number].states)
    through = _least_through(problem, index)
    ranked = sorted(groups, key=lambda keys: (min(int(through[pair]) for pair in groups[keys]), keys))
    own = next(keys for keys, pairs in groups.items() if agreed.choice[number] in pairs)
    chosen = [own, *(keys for keys in ranked if keys != own)][:most]
    priced = [_priced(problem, number, groups[keys], agreed, through) for keys in chosen]
    told = [_told(problem, number, pair, price) for pair, price in priced]
    return tuple(sorted(told, key=lambda one: (one.price, one.left, one.right)))


def _voicings(states: States) -> dict[tuple[Keys, Keys], list[tuple[int, int]]]:
    """Return the pairs of each voicing by its keys, whatever method and fingers."""
    groups: dict[tuple[Keys, Keys], list[tuple[int, int]]] = {}
    lefts = [states.left.grip(number).keys for number in range(len(states.left))]
    rights = [states.right.grip(number).keys for number in range(len(states.right))]
    for left, right in np.argwhere(states.node < CEILING).tolist():
        groups.setdefault((lefts[left], rights[right]), []).append((left, right))
    return groups


def _least_through(problem: Problem, index: int) -> Costs:
    """Return the least cost of a free plan through each pair at a step, less the least of all."""
    nodes = [problem.nodes[number] for number in problem.route]
    edges = problem.edges()[:-1]
    blocks = [problem.blocks[number] for number in problem.route]
    joint: Costs = forward(nodes, edges, blocks).costs[index] + backward(nodes, edges, blocks).costs[index]
    least: Costs = joint - joint.min()
    return least


def _priced(
    problem: Problem, number: int, pairs: list[tuple[int, int]], agreed: Agreed, through: Costs
) -> tuple[tuple[int, int], int]:
    """Return the best pair of a voicing and its price in grains."""
    if agreed.choice[number] in pairs:
        return agreed.choice[number], 0
    if len(problem.stages) == len(problem.route):
        best = min(pairs, key=lambda pair: (int(through[pair]), pair))
        return best, int(through[best])
    nodes = problem.nodes
    only = np.full_like(nodes[number], CEILING)
    for pair in pairs:
        only[pair] = nodes[number][pair]
    nodes[number] = only
    fixed = agree(problem.route, nodes, problem.edges()[:-1], problem.blocks, memory=MEMORY)
    return fixed.choice[number], max(0, fixed.cost - agreed.cost)


def _told(problem: Problem, number: int, pair: tuple[int, int], price: int) -> Alternative:
    stage = problem.stages[number]
    assert stage.chord is not None
    left, right = stage.states.grips(pair)
    names = tuple(spelled(key, degree_of(stage.chord, key % 12).name) for key in left.keys + right.keys)
    method = stage.states.method(pair[0])
    return Alternative(left.keys, right.keys, left.fingers, right.fingers, names, method, price / GRAIN)
