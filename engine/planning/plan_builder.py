"""A solution told as the plan that players read: what each finger does, and what each step costs and why."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.chord.model import Chord
from engine.hand.grip import LEFT, RIGHT, Grip
from engine.hand.keyboard import span
from engine.hand.moves import lifted
from engine.planning.cheapest import Pair
from engine.planning.clarity import blur_words
from engine.planning.hand_states import Figure, HandStates, hand_states, states_of_grips
from engine.planning.left_hand.telling import hand_notes, refusal, struck
from engine.planning.model import Plan, PlannedNote, PlannedStep
from engine.planning.own_tune.telling import with_tune
from engine.planning.passes import Agreed
from engine.planning.problem import Problem, Stage, roles
from engine.planning.shift_costs import shift_terms
from engine.planning.states import resting
from engine.planning.tune_clashes import clash_words, left_out_words, rub_words
from engine.planning.voicing_costs import beneath
from engine.planning.weights import GRAIN, grains
from engine.song.model import Step
from engine.voicing.textures import Texture

_Hands = tuple[Grip, Grip]
Lifted = tuple[tuple[int, int], ...]
_REST = Grip((), ())


def told(problem: Problem, agreed: Agreed) -> Plan:
    """Return a solution as the plan that players read."""
    pairs = [agreed.choice[number] for number in problem.route]
    stages = [problem.stage(visit) for visit in range(len(pairs))]
    figures = [stage.states.left.figure(pair[0]) for stage, pair in zip(stages, pairs, strict=True)]
    tunes = [stage.states.right.figure(pair[1]) for stage, pair in zip(stages, pairs, strict=True)]
    paths = _path(stages, pairs, 0), _path(stages, pairs, 1)
    leaving = _left_behind(paths[0], figures, LEFT), _left_behind(paths[1], tunes, RIGHT)
    shifts = _shift_terms(paths, leaving, figures, problem)
    standing = [_node_terms(stage, agreed.choice[number]) for number, stage in enumerate(problem.stages)]
    grips = list(zip(*(path.grips() for path in paths), strict=True))
    left_behind = list(zip(*(path.grips() for path in leaving), strict=True))
    before = left_behind[-1] if problem.request.loop else (_REST, _REST)
    planned = []
    for visit, after in enumerate(grips):
        terms = shifts[visit] | standing[problem.route[visit]]
        texture = stages[visit].states.texture(pairs[visit][0])
        step = _planned(problem.steps[visit], stages[visit], texture, (before, after), terms)
        own = problem.request.within(step.step.section)
        step = replace(step, warnings=refusal(step.step, own) + step.warnings)
        figure = figures[visit]
        step = step if figure is None else struck(step, figure, problem.slots(visit))
        planned.append(with_tune(step, tunes[visit], stages[visit].ask, problem.tune(visit)))
        before = left_behind[visit]
    return Plan(tuple(planned), agreed.cost / GRAIN, agreed.free / GRAIN, agreed.proved, agreed.bound / GRAIN)


def _path(stages: Sequence[Stage], pairs: Sequence[Pair], hand: int) -> HandStates:
    """Return the grips of one hand along the route."""
    sides = [(stage.states.left, stage.states.right)[hand] for stage in stages]
    keys = [side.grips.keys[:, side.held[pair[hand]]] for side, pair in zip(sides, pairs, strict=True)]
    return hand_states(np.stack(keys, axis=1), (LEFT, RIGHT)[hand])


def _left_behind(path: HandStates, figures: Sequence[Figure | None], hand: str) -> HandStates:
    """Return a hand's grips that the next chords are reached from."""
    if not any(figures):
        return path
    grips = path.grips()
    return states_of_grips([figure.last if figure else grip for figure, grip in zip(figures, grips, strict=True)], hand)


def _shift_terms(
    paths: tuple[HandStates, HandStates],
    leaving: tuple[HandStates, HandStates],
    figures: Sequence[Figure | None],
    problem: Problem,
) -> list[dict[str, int]]:
    """Return the terms of the shift into every step of a path, both hands together; none into a first step."""
    requests = [problem.request.within(step.section) for step in problem.steps]
    kinds = [
        (roles(request.hands, figure is not None), request.sound)
        for request, figure in zip(requests, figures, strict=True)
    ]
    into: list[dict[str, int]] = [{} for _ in requests]
    for parts, sound in dict.fromkeys(kinds):
        total: dict[str, NDArray[np.int32]] = {}
        for path, left, role in zip(paths, leaving, parts, strict=True):
            for name, amounts in shift_terms(path, role, sound, left).items():
                total[name] = total[name] + amounts if name in total else amounts
        rows = np.stack(list(total.values()), axis=1).tolist()
        for visit, row in enumerate(rows):
            if kinds[visit] == (parts, sound):
                into[visit] = dict(zip(total, row, strict=True))
                into[visit]["change"] = grains("change", 1) * problem.changes(visit)
                into[visit]["lead"] = grains("lead", 1) * _is_lost(figures[visit - 1], figures[visit])
    return into if problem.request.loop else [{}, *into[1:]]


def _is_lost(before: Figure | None, after: Figure | None) -> bool:
    """Return whether a walking line leads to another bass than the one that comes."""
    return before is not None and after is not None and not before.arrives(after.first.keys[0])


def _planned(
    step: Step, stage: Stage, texture: Texture, way: tuple[_Hands, _Hands], terms: dict[str, int]
) -> PlannedStep:
    """Return a step as planned: `way` leads from the hands before it to its own, `terms` are in grains."""
    before, after = way
    # The tones of a pattern come one after the other: only its bass sounds with the right hand's chord for certain.
    below = after[0].keys if stage.ask.pattern is None else after[0].keys[:1]
    left, lifted_left = _played(stage.chord, step.key, before[0], after[0])
    right, lifted_right = _played(stage.chord, step.key, before[1], after[1])
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
        warnings=stage.warnings + _rolls(stage, after) + _heard(stage, below + after[1].keys),
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


def _heard(stage: Stage, keys: tuple[int, ...]) -> tuple[str, ...]:
    """Say what blurs low down, and what is left of a clash with the tune."""
    if stage.chord is None or not keys:
        return ()
    blurs = blur_words(stage.chord, keys, beneath(stage.chord, stage.ask.setting))
    own = stage.ask.own
    if own is None:
        return blurs + clash_words(stage.chord, tuple(sorted(keys)), stage.ask.tune)
    below = tuple(sorted(key for key in keys if key != own.note))
    return blurs + rub_words(stage.chord, below, own.held) + left_out_words(stage.chord, keys, own.held)


def _node_terms(stage: Stage, pair: Pair) -> dict[str, int]:
    """Return the terms of a pair as it stands, in grains; none where the hands rest."""
    if stage.states is resting():
        return {}
    leaving = {"leave": grains("leave", 1)} if stage.leaves else {}
    return leaving | stage.states.standing(pair)


@lru_cache(maxsize=4096)
def _played(chord: Chord | None, key: str, before: Grip, after: Grip) -> tuple[tuple[PlannedNote, ...], Lifted]:
    """Return the notes of one hand with what each finger does, and the fingers that leave the keyboard."""
    return hand_notes(chord, key, after, before), lifted(before, after)
