"""A song's plan: the playable states of each chord, the cheapest path through them, and what each finger does.

Needs numpy, and so does whatever imports this module: import it when a plan is first wanted.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from engine.chord.model import Chord
from engine.errors import NoGrip
from engine.hand.grip import Grip
from engine.hand.moves import lifted, moves
from engine.plan.cheapest import Edge
from engine.plan.lineup import setting, zones
from engine.plan.model import Plan, PlannedNote, PlannedStep, Request
from engine.plan.passes import Agreed, agree
from engine.plan.shifts import TUNE, shift, shift_terms
from engine.plan.states import Ask, HandStates, States, completing, joined, only, resting, standing_terms, states
from engine.plan.weights import GRAIN
from engine.song.model import Pin, Step
from engine.theory.pitch import spelled
from engine.voicing.methods import AUTO, chosen
from engine.voicing.model import Voicing
from engine.voicing.tones import degree_of

Written = tuple[str, int, int]


@dataclass(frozen=True, slots=True, eq=False)
class _Stage:
    """A written event with its states; `warnings` say what had to give."""

    chord: Chord | None
    states: States
    ask: Ask
    warnings: tuple[str, ...] = ()


def plan(steps: Sequence[Step], request: Request = Request()) -> Plan:  # noqa: B008 (frozen)
    """Return the plan of least effort found, exact where it says so.

    A chord without a playable state becomes a step with resting hands and a warning; the rest is planned around it.

    Raises:
        NoGrip: not one chord of the song fits the hands.
    """
    if not steps:
        return Plan((), 0.0, 0.0, True)
    numbers: dict[object, int] = {}
    route = [numbers.setdefault(_place(step, request), len(numbers)) for step in steps]
    firsts = [route.index(number) for number in range(len(numbers))]
    stages = [_stage(steps, visit, request) for visit in firsts]
    if all(stage.warnings and stage.states is resting() for stage in stages if stage.chord) and any(
        stage.chord for stage in stages
    ):
        raise _nothing(steps, stages, route)
    nodes = [stage.states.node for stage in stages]
    agreed = agree(route, nodes, lambda visit: _edge(steps, stages, route, visit, request))
    return _told(steps, stages, route, agreed, request)


def _place(step: Step, request: Request) -> object:
    # The same written event in another key, after a change of key inside the song, is another place for the hands.
    return (step.written, step.chord, step.key) if request.share_passes else step.index


def _edge(steps: Sequence[Step], stages: Sequence[_Stage], route: Sequence[int], visit: int, request: Request) -> Edge:
    before, after = stages[route[visit]].states, stages[route[visit + 1]].states
    same = _same_section(steps, stages, route, visit + 1)
    left, right = _roles(request)
    return (
        shift(before.left, after.left, left, request.sound, same),
        shift(before.right, after.right, right, request.sound, same),
    )


def _roles(request: Request) -> tuple[str, str]:
    return (TUNE, "") if request.hands == "left" else ("", TUNE)


def _same_section(steps: Sequence[Step], stages: Sequence[_Stage], route: Sequence[int], visit: int) -> bool:
    """Return whether a change of method into this visit is one inside a section: neither at its start nor from or to
    a rest."""
    plays = stages[route[visit - 1]].states is not resting() and stages[route[visit]].states is not resting()
    return plays and not steps[visit].section_start


def _stage(steps: Sequence[Step], visit: int, request: Request) -> _Stage:
    step = steps[visit]
    ahead = steps[visit + 1].chord if visit + 1 < len(steps) else None
    ask = _ask(request, _to_minor(step.chord, ahead))
    if step.chord is None:
        return _Stage(None, resting(), ask)
    pin = next((pin for pin in request.pins if _pins(pin, step)), None)
    if pin is not None:
        found = _pinned(step, pin, ask)
        if found is not None:
            return _Stage(step.chord, found, ask)
    warning = () if pin is None else (_pin_words(step),)
    found = states(step.chord, ask)
    if found is not None:
        return _Stage(step.chord, found, ask, warning)
    return _relaxed(step, request, ask, warning)


def _ask(request: Request, to_minor: bool) -> Ask:
    return Ask(setting(request, to_minor), chosen(request.method), request.reach, zones(request))


def _relaxed(step: Step, request: Request, ask: Ask, warning: tuple[str, ...]) -> _Stage:
    """Try the other methods before giving a chord up."""
    assert step.chord is not None
    if request.method != AUTO:
        wider = replace(ask, methods=chosen(AUTO))
        found = states(step.chord, wider)
        if found is not None:
            told = f"no {request.method} voicing of {step.symbol} fits the hands, another method takes its place"
            return _Stage(step.chord, found, wider, (*warning, told))
    told = f"{step.symbol} does not fit the hands: {_way_out(request)}"
    return _Stage(step.chord, resting(), ask, (*warning, told))


def _way_out(request: Request) -> str:
    if request.hands != "both":
        return "use both hands, or set a wider reach"
    return "set a wider reach, or write a simpler chord"


def _nothing(steps: Sequence[Step], stages: Sequence[_Stage], route: Sequence[int]) -> NoGrip:
    visit = next(visit for visit, number in enumerate(route) if stages[number].chord)
    step = steps[visit]
    hint = stages[route[visit]].warnings[-1].partition(": ")[2]
    return NoGrip(step.symbol, f"{step.section}, bar {step.bar}", hint)


def _to_minor(chord: Chord | None, ahead: Chord | None) -> bool:
    """Return whether a dominant resolves down a fifth, or a semitone as its tritone substitute, to a minor chord."""
    if chord is None or ahead is None or not {"3", "b7"} <= set(chord.degrees) or "b3" not in ahead.degrees:
        return False
    return (chord.root.pc - ahead.root.pc) % 12 in (7, 1)


def _pins(pin: Pin, step: Step) -> bool:
    return (pin.section, pin.bar, pin.beat) == (step.section, step.bar, step.beat)


def _pinned(step: Step, pin: Pin, ask: Ask) -> States | None:
    assert step.chord is not None
    fingers = (pin.left_fingers, pin.right_fingers)
    if pin.left is not None and pin.right is not None:
        return only(step.chord, ask, Voicing(pin.left, pin.right), fingers)
    return completing(step.chord, ask, pin.left, pin.right, fingers)


def _pin_words(step: Step) -> str:
    return f"the pin on {step.symbol} does not fit the hands, move the pin or widen the reach"


def _told(
    steps: Sequence[Step], stages: Sequence[_Stage], route: Sequence[int], agreed: Agreed, request: Request
) -> Plan:
    pairs = [agreed.choice[number] for number in route]
    lefts = [stages[number].states.left.pick([pair[0]]) for number, pair in zip(route, pairs, strict=True)]
    rights = [stages[number].states.right.pick([pair[1]]) for number, pair in zip(route, pairs, strict=True)]
    same = np.array([_same_section(steps, stages, route, visit) for visit in range(1, len(route))])
    terms = [_node_terms(stages[number], agreed.choice[number]) for number in range(len(stages))]
    shifts = [{}, *_shift_terms(lefts, rights, same, request)]
    planned, before = [], (Grip((), ()), Grip((), ()))
    for visit, step in enumerate(steps):
        stage = stages[route[visit]]
        after = (lefts[visit].grip(0), rights[visit].grip(0))
        planned.append(_planned(step, stage, pairs[visit][0], before, after, shifts[visit] | terms[route[visit]]))
        before = after
    return Plan(tuple(planned), agreed.cost / GRAIN, agreed.free / GRAIN, agreed.proved)


def _shift_terms(
    lefts: Sequence[HandStates], rights: Sequence[HandStates], same: NDArray[np.bool_], request: Request
) -> list[dict[str, int]]:
    """Return the terms of every shift of the chosen path, both hands together."""
    if len(lefts) < 2:
        return []
    total: dict[str, NDArray[np.int32]] = {}
    for hand, role in zip((joined(lefts), joined(rights)), _roles(request), strict=True):
        count = len(hand.keys)
        before, after = hand.pick(range(count - 1)), hand.pick(range(1, count))
        for name, amounts in shift_terms(before, after, role, request.sound, same).items():
            total[name] = total[name] + amounts if name in total else amounts
    return [dict(zip(total, row, strict=True)) for row in np.stack(list(total.values()), axis=1).tolist()]


def _planned(
    step: Step, stage: _Stage, left: int, before: tuple[Grip, Grip], after: tuple[Grip, Grip], terms: dict[str, int]
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
        warnings=stage.warnings,
    )


def _node_terms(stage: _Stage, pair: tuple[int, int]) -> dict[str, int]:
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
