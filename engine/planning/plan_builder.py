"""A solution told as the plan that players read: what each finger does, and what each step costs and why."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.chord.model import Chord
from engine.hand.grip import LEFT, RIGHT, Grip
from engine.hand.keyboard import span
from engine.hand.moves import lifted, moves
from engine.planning.cheapest import Pair
from engine.planning.clarity import blur_words
from engine.planning.hand_states import HandStates, hand_states
from engine.planning.model import Plan, PlannedNote, PlannedStep
from engine.planning.passes import Agreed
from engine.planning.problem import Problem, Stage, roles
from engine.planning.shift_costs import shift_terms
from engine.planning.states import resting
from engine.planning.voicing_costs import beneath
from engine.planning.weights import GRAIN, grains
from engine.song.model import Step
from engine.theory.pitch import spelled
from engine.voicing.textures import Texture
from engine.voicing.tones import degree_of

_Hands = tuple[Grip, Grip]
Lifted = tuple[tuple[int, int], ...]
_REST = Grip((), ())


def told(problem: Problem, agreed: Agreed) -> Plan:
    """Return a solution as the plan that players read."""
    pairs = [agreed.choice[number] for number in problem.route]
    stages = [problem.stage(visit) for visit in range(len(pairs))]
    paths = _path(stages, pairs, 0), _path(stages, pairs, 1)
    shifts = _shift_terms(paths, problem)
    standing = [_node_terms(stage, agreed.choice[number]) for number, stage in enumerate(problem.stages)]
    grips = list(zip(*(path.grips() for path in paths), strict=True))
    before = grips[-1] if problem.request.loop else (_REST, _REST)
    planned = []
    for visit, after in enumerate(grips):
        terms = shifts[visit] | standing[problem.route[visit]]
        texture = stages[visit].states.texture(pairs[visit][0])
        planned.append(_planned(problem.steps[visit], stages[visit], texture, (before, after), terms))
        before = after
    return Plan(tuple(planned), agreed.cost / GRAIN, agreed.free / GRAIN, agreed.proved, agreed.bound / GRAIN)


def _path(stages: Sequence[Stage], pairs: Sequence[Pair], hand: int) -> HandStates:
    """Return the grips of one hand along the route."""
    sides = [(stage.states.left, stage.states.right)[hand] for stage in stages]
    keys = [side.grips.keys[:, side.held[pair[hand]]] for side, pair in zip(sides, pairs, strict=True)]
    return hand_states(np.stack(keys, axis=1), (LEFT, RIGHT)[hand])


def _shift_terms(paths: tuple[HandStates, HandStates], problem: Problem) -> list[dict[str, int]]:
    """Return the terms of the shift into every step of a path, both hands together; none into a first step."""
    requests = [problem.request.within(step.section) for step in problem.steps]
    into: list[dict[str, int]] = [{} for _ in requests]
    for hands, sound in dict.fromkeys((request.hands, request.sound) for request in requests):
        total: dict[str, NDArray[np.int32]] = {}
        for path, role in zip(paths, roles(hands), strict=True):
            for name, amounts in shift_terms(path, role, sound).items():
                total[name] = total[name] + amounts if name in total else amounts
        rows = np.stack(list(total.values()), axis=1).tolist()
        for visit, row in enumerate(rows):
            if (requests[visit].hands, requests[visit].sound) == (hands, sound):
                into[visit] = dict(zip(total, row, strict=True))
                into[visit]["change"] = grains("change", 1) * problem.changes(visit)
    return into if problem.request.loop else [{}, *into[1:]]


def _planned(
    step: Step, stage: Stage, texture: Texture, way: tuple[_Hands, _Hands], terms: dict[str, int]
) -> PlannedStep:
    """Return a step as planned: `way` leads from the hands before it to its own, `terms` are in grains."""
    before, after = way
    left, lifted_left = _played(stage.chord, before[0], after[0])
    right, lifted_right = _played(stage.chord, before[1], after[1])
    return PlannedStep(
        step=step,
        method=texture.method,
        texture=texture.name,
        left=left,
        right=right,
        lifted_left=lifted_left,
        lifted_right=lifted_right,
        effort=sum(terms.values()) / GRAIN,
        terms=tuple((name, amount / GRAIN) for name, amount in terms.items() if amount),
        warnings=stage.warnings + _rolls(stage, after) + _blurs(stage, after[0].keys + after[1].keys),
    )


def _rolls(stage: Stage, hands: _Hands) -> tuple[str, ...]:
    """Say which hand plays wider than it reaches."""
    said = []
    for name, grip, reach in zip((LEFT, RIGHT), hands, stage.ask.reach, strict=True):
        wide = span(grip.keys[0], grip.keys[-1]) if grip.keys else 0.0
        if wide > reach:
            said.append(
                f"roll the {name} hand, low note first, and hold it with the pedal: {wide:.0f} mm is beyond its reach"
            )
    return tuple(said)


def _blurs(stage: Stage, keys: tuple[int, ...]) -> tuple[str, ...]:
    if stage.chord is None or not keys:
        return ()
    return blur_words(stage.chord, keys, beneath(stage.chord, stage.ask.setting))


def _node_terms(stage: Stage, pair: Pair) -> dict[str, int]:
    """Return the terms of a pair as it stands, in grains; none where the hands rest."""
    if stage.chord is None or stage.states is resting():
        return {}
    leaving = {"leave": grains("leave", 1)} if stage.leaves else {}
    return leaving | stage.states.standing(pair)


@lru_cache(maxsize=4096)
def _played(chord: Chord | None, before: Grip, after: Grip) -> tuple[tuple[PlannedNote, ...], Lifted]:
    """Return the notes of one hand with what each finger does, and the fingers that leave the keyboard."""
    found = []
    for move in moves(before, after) if chord else ():
        tone = degree_of(chord, move.key % 12)
        name = spelled(move.key, tone.name)
        found.append(PlannedNote(move.key, name, tone.degree, move.finger, move.kind, move.left_from))
    return tuple(found), lifted(before, after)
