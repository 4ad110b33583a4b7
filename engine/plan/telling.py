"""A solution told as the plan that players read: what each finger does, and what each step costs and why."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from engine.chord.model import Chord
from engine.hand.grip import LEFT, RIGHT, Grip
from engine.hand.keyboard import span
from engine.hand.moves import lifted, moves
from engine.plan.clarity import blur_words
from engine.plan.hand_states import hand_states, laid_out
from engine.plan.model import Plan, PlannedNote, PlannedStep
from engine.plan.passes import Agreed
from engine.plan.problem import Problem, Stage, roles
from engine.plan.shifts import changes, shift_terms
from engine.plan.standing import beneath
from engine.plan.states import resting
from engine.plan.weights import GRAIN
from engine.song.model import Step
from engine.theory.pitch import spelled
from engine.voicing.tones import degree_of

_Hands = tuple[Grip, Grip]
_REST = Grip((), ())


def told(problem: Problem, agreed: Agreed) -> Plan:
    """Return a solution as the plan that players read."""
    pairs = [agreed.choice[number] for number in problem.route]
    stages = [problem.stage(visit) for visit in range(len(pairs))]
    grips = [stage.states.grips(pair) for stage, pair in zip(stages, pairs, strict=True)]
    standing = [_node_terms(stage, agreed.choice[number]) for number, stage in enumerate(problem.stages)]
    methods = np.array([stage.states.left.methods[pair[0]] for stage, pair in zip(stages, pairs, strict=True)])
    shifts = _shift_terms(grips, methods, problem)
    ways = zip([grips[-1] if problem.request.loop else (_REST, _REST), *grips], grips, strict=False)
    planned = []
    for visit, way in enumerate(ways):
        terms = shifts[visit] | standing[problem.route[visit]]
        method = stages[visit].states.method(pairs[visit][0])
        planned.append(_planned(problem.steps[visit], stages[visit], method, way, terms))
    return Plan(tuple(planned), agreed.cost / GRAIN, agreed.free / GRAIN, agreed.proved, agreed.bound / GRAIN)


def _shift_terms(grips: Sequence[_Hands], methods: NDArray[np.int32], problem: Problem) -> list[dict[str, int]]:
    """Return the terms of the shift into every step of a path, both hands together; none into a first step."""
    count = len(grips)
    total: dict[str, NDArray[np.int32]] = {}
    for hand, role in enumerate(roles(problem.request)):
        path = hand_states(laid_out([pair[hand] for pair in grips]), (LEFT, RIGHT)[hand])
        for name, amounts in shift_terms(path, role, problem.request.sound).items():
            total[name] = total[name] + amounts if name in total else amounts
    same = np.array([problem.same_section(visit) for visit in range(count)])
    total["change"] = changes(np.roll(methods, 1), methods) * same
    rows = np.stack(list(total.values()), axis=1).tolist()
    into = [dict(zip(total, row, strict=True)) for row in rows]
    return into if problem.request.loop else [{}, *into[1:]]


def _planned(step: Step, stage: Stage, method: str, way: tuple[_Hands, _Hands], terms: dict[str, int]) -> PlannedStep:
    """Return a step as planned: `way` leads from the hands before it to its own, `terms` are in grains."""
    before, after = way
    return PlannedStep(
        step=step,
        method=method,
        left=_notes(stage.chord, before[0], after[0]),
        right=_notes(stage.chord, before[1], after[1]),
        lifted_left=lifted(before[0], after[0]),
        lifted_right=lifted(before[1], after[1]),
        effort=sum(terms.values()) / GRAIN,
        terms=tuple((name, amount / GRAIN) for name, amount in terms.items() if amount),
        warnings=stage.warnings + _rolls(stage, after) + _blurs(stage, after[0].keys + after[1].keys),
    )


def _rolls(stage: Stage, hands: _Hands) -> tuple[str, ...]:
    """Say which hand plays wider than it reaches."""
    said = []
    for name, grip, reach in zip((LEFT, RIGHT), hands, stage.ask.reach, strict=True):
        if stage.ask.roll and grip.keys and span(grip.keys[0], grip.keys[-1]) > reach:
            wide = span(grip.keys[0], grip.keys[-1])
            said.append(
                f"roll the {name} hand, low note first, and hold it with the pedal: {wide:.0f} mm is beyond its reach"
            )
    return tuple(said)


def _blurs(stage: Stage, keys: tuple[int, ...]) -> tuple[str, ...]:
    if stage.chord is None or not keys:
        return ()
    return blur_words(stage.chord, keys, beneath(stage.chord, stage.ask.setting))


def _node_terms(stage: Stage, pair: tuple[int, int]) -> dict[str, int]:
    """Return the terms of a pair as it stands, in grains; none where the hands rest."""
    if stage.chord is None or stage.states is resting():
        return {}
    return stage.states.standing(pair)


def _notes(chord: Chord | None, before: Grip, after: Grip) -> tuple[PlannedNote, ...]:
    if chord is None:
        return ()
    found = []
    for move in moves(before, after):
        tone = degree_of(chord, move.key % 12)
        name = spelled(move.key, tone.name)
        found.append(PlannedNote(move.key, name, tone.degree, move.finger, move.kind, move.left_from))
    return tuple(found)
