"""A song as the planner sees it: a route over stages, each with the playable states of a written chord.

Where a chord has none, what the trade gives up first is given up, and the stage says so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from engine.chord.model import Chord
from engine.errors import NoGrip
from engine.method_names import AUTO
from engine.planning.cheapest import Blocks, Costs, Edge
from engine.planning.lineup import setting, zones
from engine.planning.model import Request
from engine.planning.shift_costs import TUNE, shifts
from engine.planning.states import States, completing, only, resting, states, states_of
from engine.planning.voicing_costs import Ask
from engine.song.model import Pin, Step
from engine.voicing.methods import chosen
from engine.voicing.model import Voicing
from engine.voicing.tones import is_dominant


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """A written event with its states; `warnings` say what had to give."""

    chord: Chord | None
    states: States
    ask: Ask
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """`route[visit]` is the number of the stage that step `visit` plays; stages that share a fingering are one."""

    steps: tuple[Step, ...]
    request: Request
    stages: tuple[Stage, ...]
    route: tuple[int, ...]

    @property
    def nodes(self) -> list[Costs]:
        """The standing costs of each stage's pairs."""
        return [stage.states.node for stage in self.stages]

    @property
    def blocks(self) -> list[Blocks]:
        """Where each stage's possible pairs lie."""
        return [stage.states.blocks for stage in self.stages]

    def stage(self, visit: int) -> Stage:
        """Return the stage that a step plays."""
        return self.stages[self.route[visit]]

    def edges(self) -> list[Edge]:
        """Return the costs of the shift from each visit to the next one, after the last to the first, as in a loop."""
        stages = [self.stage(visit).states for visit in range(len(self.steps))]
        same = [self.same_section((visit + 1) % len(stages)) for visit in range(len(stages))]
        ways = list(zip(stages, [*stages[1:], stages[0]], same, strict=True))
        left, right = roles(self.request)
        sound = self.request.sound
        lefts = shifts([(one.left, two.left, same) for one, two, same in ways], left, sound)
        rights = shifts([(one.right, two.right, same) for one, two, same in ways], right, sound)
        return list(zip(lefts, rights, strict=True))

    def same_section(self, visit: int) -> bool:
        """Return whether a visit lies inside a section, hands before and after: there a change of method costs."""
        plays = self.stage(visit - 1).states is not resting() and self.stage(visit).states is not resting()
        return plays and not self.steps[visit].section_start


def roles(request: Request) -> tuple[str, str]:
    """Return the roles of the left and the right hand: the one on top has the tune."""
    return (TUNE, "") if request.hands == "left" else ("", TUNE)


def pose(steps: Sequence[Step], request: Request) -> Problem:
    """Return the problem of planning `steps`.

    Raises:
        NoGrip: not one chord fits the hands.
    """
    numbers: dict[object, int] = {}
    route = [numbers.setdefault(_place(step, request), len(numbers)) for step in steps]
    firsts = [route.index(number) for number in range(len(numbers))]
    asks = _ask(request, False), _ask(request, True)
    asked = [(steps[visit], _resolves_to_minor(steps, visit)) for visit in firsts]
    known = [states_of([step.chord for step, one in asked if step.chord and one == two], asks[two]) for two in (0, 1)]
    stages = tuple(_stage(step, asks[minor], request, known[minor]) for step, minor in asked)
    sounding = [number for number, stage in enumerate(stages) if stage.chord]
    if sounding and all(stages[number].states is resting() for number in sounding):
        step, stage = steps[firsts[sounding[0]]], stages[sounding[0]]
        raise NoGrip(step.symbol, f"{step.section}, bar {step.bar}", stage.warnings[-1].partition(": ")[2])
    return Problem(tuple(steps), request, stages, tuple(route))


def _place(step: Step, request: Request) -> object:
    # The same written event in another key, after a change of key inside the song, is another place for the hands.
    return (step.written, step.chord, step.key) if request.share_passes else step.index


def _stage(step: Step, ask: Ask, request: Request, known: Mapping[Chord, States | None]) -> Stage:
    if step.chord is None:
        return Stage(None, resting(), ask)
    pin = next((pin for pin in request.pins if pin.place == (step.section, step.bar, step.beat)), None)
    if pin is not None:
        for one in (ask, *_rolling(request, ask)):
            found = _pinned(step, pin, one)
            if found is not None:
                return Stage(step.chord, found, one)
    warning = () if pin is None else (_pin_words(step),)
    found = known[step.chord]
    if found is not None:
        return Stage(step.chord, found, ask, warning)
    return _relaxed(step, request, ask, warning)


def _ask(request: Request, to_minor: bool) -> Ask:
    return Ask(setting(request, to_minor), chosen(request.method), request.reach, zones(request))


def _relaxed(step: Step, request: Request, ask: Ask, warning: tuple[str, ...]) -> Stage:
    """Give up what the trade gives up first: the method, since others share the chord between the hands, leave out
    the fifth or give the right hand the tenth; then that it sounds at once; then what the symbol asks for beyond
    third and seventh."""
    assert step.chord is not None
    every = replace(ask, methods=chosen(AUTO))
    bare = replace(every, setting=replace(ask.setting, partial=True))
    taken = f"no {request.method} voicing of {step.symbol} fits the hands, another method takes its place"
    remedies: list[tuple[Ask, tuple[str, ...]]] = [
        (every, (taken,)),
        *((rolling, ()) for rolling in _rolling(request, every)),
        (bare, (f"{step.symbol} does not fit the hands whole, some of it is left out",)),
    ]
    for wider, told in remedies:
        found = states(step.chord, wider) if wider != ask else None
        if found is not None:
            return Stage(step.chord, found, wider, warning + told)
    nothing = f"{step.symbol} does not fit the hands: {_way_out(request)}"
    return Stage(step.chord, resting(), ask, (*warning, nothing))


def _rolling(request: Request, ask: Ask) -> tuple[Ask, ...]:
    """Return how to ask for chords that may be rolled; not on an organ, which has no pedal to hold the low note."""
    return (replace(ask, roll=True),) if request.sound != "organ" else ()


def _way_out(request: Request) -> str:
    if request.hands != "both":
        return "use both hands, or set a wider reach"
    return "set a wider reach, or write a simpler chord"


def _resolves_to_minor(steps: Sequence[Step], visit: int) -> bool:
    """Return whether a dominant resolves down a fifth, or a semitone as its tritone substitute, to a minor chord."""
    chord, ahead = steps[visit].chord, steps[visit + 1].chord if visit + 1 < len(steps) else None
    if chord is None or ahead is None or not is_dominant(chord) or "b3" not in ahead.degrees:
        return False
    return (chord.root.pc - ahead.root.pc) % 12 in (7, 1)


def _pinned(step: Step, pin: Pin, ask: Ask) -> States | None:
    assert step.chord is not None
    fingers = (pin.left_fingers, pin.right_fingers)
    if pin.left is not None and pin.right is not None:
        return only(step.chord, ask, Voicing(pin.left, pin.right), fingers)
    return completing(step.chord, ask, pin.left, pin.right, fingers)


def _pin_words(step: Step) -> str:
    return f"the pin on {step.symbol} does not fit the hands, move the pin or widen the reach"
