"""A song's plan: the playable states of each chord, the cheapest path through them, and what each finger does.

Needs numpy, and so does whatever imports this module: import it when a plan is first wanted.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.chord.model import Chord
from engine.hand.grip import LEFT, RIGHT, Grip
from engine.hand.moves import lifted, moves
from engine.plan.clarity import blur_words
from engine.plan.hand_states import hand_states
from engine.plan.loops import cheapest_loop
from engine.plan.model import Plan, PlannedNote, PlannedStep, Request
from engine.plan.passes import PERSUASIONS, Agreed, agree
from engine.plan.problem import Problem, Stage, pose, roles
from engine.plan.shifts import changes, shift_terms
from engine.plan.standing import beneath, standing_terms
from engine.plan.states import resting
from engine.plan.weights import GRAIN
from engine.song.model import Step
from engine.theory.pitch import spelled
from engine.voicing.model import Voicing
from engine.voicing.tones import degree_of

_REST = Grip((), ())


def plan(steps: Sequence[Step], request: Request = Request()) -> Plan:  # noqa: B008 (frozen)
    """Return the plan of least effort found, exact where it says so.

    A chord without a playable state becomes a step with resting hands and a warning; the rest is planned around it.

    Raises:
        NoGrip: not one chord of the song fits the hands.
    """
    if not steps:
        return Plan((), 0.0, 0.0, True)
    problem, agreed = solved(tuple(steps), request)
    found = told(problem, agreed)
    if not request.pins:
        return found
    _, free_of_pins = solved(tuple(steps), replace(request, pins=()))
    return replace(found, pins_cost=(agreed.cost - free_of_pins.cost) / GRAIN)


@lru_cache(maxsize=16)
def solved(steps: tuple[Step, ...], request: Request) -> tuple[Problem, Agreed]:
    """Return a song's problem and its solution; a few are kept, since a song is asked for again with other pins."""
    problem = pose(steps, replace(request, share_passes=request.share_passes and not request.loop))
    if request.loop:
        return problem, _round(problem)
    persuasions = PERSUASIONS if request.prove else 0
    return problem, agree(problem.route, problem.nodes, problem.edge, problem.blocks, persuasions)


def _round(problem: Problem) -> Agreed:
    edges = [problem.edge(visit) for visit in range(len(problem.route))]
    cost, path = cheapest_loop(problem.nodes, edges[:-1], edges[-1], problem.blocks)
    return Agreed(dict(enumerate(path)), cost, cost, cost)


def told(problem: Problem, agreed: Agreed) -> Plan:
    """Return a solution as the plan that players read."""
    pairs = [agreed.choice[number] for number in problem.route]
    stages = [problem.stage(visit) for visit in range(len(pairs))]
    grips = [
        (stage.states.left.grip(left), stage.states.right.grip(right))
        for stage, (left, right) in zip(stages, pairs, strict=True)
    ]
    standing = [_node_terms(stage, agreed.choice[number]) for number, stage in enumerate(problem.stages)]
    methods = np.array([stage.states.left.methods[pair[0]] for stage, pair in zip(stages, pairs, strict=True)])
    shifts = _shift_terms(grips, methods, problem)
    planned, before = [], grips[-1] if problem.request.loop else (_REST, _REST)
    for visit, step in enumerate(problem.steps):
        after = grips[visit]
        terms = shifts[visit] | standing[problem.route[visit]]
        planned.append(_planned(step, stages[visit], pairs[visit][0], before, after, terms))
        before = after
    return Plan(tuple(planned), agreed.cost / GRAIN, agreed.free / GRAIN, agreed.proved, agreed.bound / GRAIN)


def _shift_terms(
    grips: Sequence[tuple[Grip, Grip]], methods: NDArray[np.int32], problem: Problem
) -> list[dict[str, int]]:
    """Return the terms of the shift into every step of a path, both hands together; none into a first step."""
    count = len(grips)
    total: dict[str, NDArray[np.int32]] = {}
    for hand, role in enumerate(roles(problem.request)):
        path = hand_states([pair[hand] for pair in grips], (LEFT, RIGHT)[hand])
        before, after = path.pick(range(-1, count - 1)), path.pick(range(count))
        for name, amounts in shift_terms(before, after, role, problem.request.sound).items():
            total[name] = total[name] + amounts if name in total else amounts
    same = np.array([problem.same_section(visit) for visit in range(count)])
    total["change"] = changes(np.roll(methods, 1), methods) * same
    rows = np.stack(list(total.values()), axis=1).tolist()
    into = [dict(zip(total, row, strict=True)) for row in rows]
    return into if problem.request.loop else [{}, *into[1:]]


def _planned(
    step: Step, stage: Stage, left: int, before: tuple[Grip, Grip], after: tuple[Grip, Grip], terms: dict[str, int]
) -> PlannedStep:
    return PlannedStep(
        step=step,
        method=stage.states.method(left),
        left=_notes(stage.chord, before[0], after[0]),
        right=_notes(stage.chord, before[1], after[1]),
        lifted_left=lifted(before[0], after[0]),
        lifted_right=lifted(before[1], after[1]),
        effort=sum(terms.values()) / GRAIN,
        terms=tuple((name, amount / GRAIN) for name, amount in terms.items() if amount),
        warnings=stage.warnings + _blurs(stage, after[0].keys + after[1].keys),
    )


def _blurs(stage: Stage, keys: tuple[int, ...]) -> tuple[str, ...]:
    if stage.chord is None or not keys:
        return ()
    return blur_words(stage.chord, keys, beneath(stage.chord, stage.ask.setting))


def _node_terms(stage: Stage, pair: tuple[int, int]) -> dict[str, int]:
    if stage.chord is None or stage.states is resting():
        return {}
    left, right = stage.states.left.grip(pair[0]), stage.states.right.grip(pair[1])
    terms = standing_terms(stage.chord, Voicing(left.keys, right.keys), stage.ask)
    return {"grip": int(stage.states.node[pair]) - sum(terms.values()), **terms}


def _notes(chord: Chord | None, before: Grip, after: Grip) -> tuple[PlannedNote, ...]:
    if chord is None:
        return ()
    found = []
    for move in moves(before, after):
        tone = degree_of(chord, move.key % 12)
        name = spelled(move.key, tone.name)
        found.append(PlannedNote(move.key, name, tone.degree, move.finger, move.kind, move.left_from))
    return tuple(found)
