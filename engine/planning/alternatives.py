"""This voicing instead: what every other voicing of a chord would cost the whole song.

For a song in which no written chord comes twice the prices are min-marginals: the least cost of any plan through the
voicing, of all voicings considered and the textures looked into, less that of the plan. Where passes share their
fingering, each of the likeliest voicings is fixed and the song planned again. A voicing of another texture may cost
less than the plan's, which holds its texture all through a section: a pin need not.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from engine.planning.cheapest import CEILING, Costs, backward, forward
from engine.planning.model import Request
from engine.planning.passes import Agreed, agree
from engine.planning.planner import MEMORY, solved
from engine.planning.problem import Problem, Stage, pose
from engine.planning.states import States, every
from engine.planning.weights import GRAIN
from engine.song.model import Step
from engine.theory.pitch import spelled
from engine.voicing.stacking import Keys
from engine.voicing.textures import Hands
from engine.voicing.tones import degree_of

NEAR = 20_000
"""Grains over the plan's cost up to which another texture of the section is looked into for cheaper prices: dearer
alternatives are offered at what they cost in the texture held (own choice)."""


@dataclass(frozen=True, slots=True)
class Alternative:
    """A voicing with the fingers it would be played with; `price` is the effort it adds to the song, 0.0 for the
    plan's own, negative where a pin makes the song easier.

    Keys are MIDI numbers, ascending; `names` are all of them spelled, low to high. `pattern`: the left hand plays one,
    from these keys.
    """

    left: Keys
    right: Keys
    left_fingers: tuple[int, ...]
    right_fingers: tuple[int, ...]
    names: tuple[str, ...]
    method: str
    price: float
    pattern: bool = False


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
    own = _hands(problem, number, agreed.choice[number])
    wide = _wide(problem.stages[number])
    found: dict[Hands, Alternative] = {}
    for held in _held_otherwise(problem, agreed, steps, request, number):
        opened = _opened(held, number, wide)
        groups = _voicings(opened.stages[number].states)
        through = _least_through(opened, index)
        ranked = sorted(groups, key=lambda keys: (min(int(through[pair]) for pair in groups[keys]), keys))
        for hands in [own, *(hands for hands in ranked if hands != own)][:most]:
            if hands in groups:
                pair, price = _priced(opened, number, groups[hands], agreed, through)
                told = _told(opened, number, pair, 0 if hands == own else price)
                if hands not in found or told.price < found[hands].price:
                    found[hands] = told
    ranked_all = sorted(found.values(), key=lambda one: (one.price, one.left, one.right))
    chosen = [found[own], *(one for one in ranked_all if one is not found[own])][:most]
    return tuple(chosen)


def _hands(problem: Problem, number: int, pair: tuple[int, int]) -> Hands:
    left, right = problem.stages[number].states.grips(pair)
    return left.keys, right.keys


def _held_otherwise(
    problem: Problem, agreed: Agreed, steps: Sequence[Step], request: Request, number: int
) -> list[Problem]:
    """Return the plan's problem, and those with another texture in the section that might give a cheaper price."""
    song = pose(tuple(steps), replace(request, share_passes=request.share_passes and not request.loop))
    section = song.sections[number]
    choice = dict(zip(song.sections, problem.held, strict=True))
    others = [song.holding({**choice, section: one}) for one in song.textures(section) if one != choice[section]]
    return [problem, *(one for one in others if _floor(one) < agreed.cost + NEAR)]


def _floor(problem: Problem) -> int:
    """Return what no plan of a problem can go below."""
    least = [int(node.min()) for node in problem.nodes]
    return sum(least[number] for number in problem.route)


def _wide(stage: Stage) -> States | None:
    """Return a stage's states in all textures; None where the player insists on some, or a chord has few anyway."""
    assert stage.chord is not None
    return None if stage.pinned or stage.leaves else every(stage.chord, stage.ask)


def _opened(problem: Problem, number: int, wide: States | None) -> Problem:
    """Return the problem with a stage open to other states than its section's texture has."""
    if wide is None:
        return problem
    opened = replace(problem.stages[number], states=wide, leaves=False)
    return replace(problem, stages=(*problem.stages[:number], opened, *problem.stages[number + 1 :]))


def _voicings(states: States) -> dict[tuple[Keys, Keys], list[tuple[int, int]]]:
    """Return the pairs of each voicing by its keys, whatever method and fingers."""
    groups: dict[tuple[Keys, Keys], list[tuple[int, int]]] = {}
    lefts = [states.left.grip(number).keys for number in range(len(states.left))]
    rights = [states.right.grip(number).keys for number in range(len(states.right))]
    for left, right in np.argwhere(states.node < CEILING).tolist():
        groups.setdefault((lefts[left], rights[right]), []).append((left, right))
    return groups


def _least_through(problem: Problem, index: int) -> Costs:
    """Return the least cost of a free plan through each pair at a step."""
    nodes = [problem.nodes[number] for number in problem.route]
    edges = problem.edges()[:-1]
    on, back = forward(nodes, edges), backward(nodes, edges)
    least: Costs = on.costs[index].astype(np.int64) + back.costs[index] + on.offsets[index] + back.offsets[index]
    return least


def _priced(
    problem: Problem, number: int, pairs: list[tuple[int, int]], agreed: Agreed, through: Costs
) -> tuple[tuple[int, int], int]:
    """Return the best pair of a voicing and its price in grains."""
    if len(problem.stages) == len(problem.route):
        best = min(pairs, key=lambda pair: (int(through[pair]), pair))
        return best, int(through[best]) - agreed.cost
    nodes = problem.nodes
    only = np.full_like(nodes[number], CEILING)
    for pair in pairs:
        only[pair] = nodes[number][pair]
    nodes[number] = only
    fixed = agree(problem.route, nodes, problem.edges()[:-1], memory=MEMORY)
    return fixed.choice[number], fixed.cost - agreed.cost


def _told(problem: Problem, number: int, pair: tuple[int, int], price: int) -> Alternative:
    stage = problem.stages[number]
    assert stage.chord is not None
    left, right = stage.states.grips(pair)
    names = tuple(spelled(key, degree_of(stage.chord, key % 12).name) for key in left.keys + right.keys)
    method = stage.states.texture(pair[0]).method
    pattern = stage.ask.pattern is not None
    return Alternative(left.keys, right.keys, left.fingers, right.fingers, names, method, price / GRAIN, pattern)
