"""A song as the planner sees it: a route over stages, each with the playable states of a written chord.

Each section holds one texture, and has its states in each that may be held. Where a chord has none in a texture, it
leaves it; where it has none at all, what the trade gives up first is given up; and the stage says so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

import numpy as np

from engine.chord.model import Chord
from engine.errors import NoGrip
from engine.method_names import AUTO
from engine.planning.cheapest import CEILING, Costs, Edge
from engine.planning.hand_states import Side
from engine.planning.left_hand.slots import Pattern, Slot, pattern_of, slots_at
from engine.planning.lineup import Zone, beneath_tune, reaching, setting, top_zone, with_tune, zones
from engine.planning.model import Request
from engine.planning.own_tune.voicings import Top
from engine.planning.own_tune.wanted import after_onset, at_onset, is_held
from engine.planning.shift_costs import PATTERN, TUNE, shifts
from engine.planning.states import States, completing, every, only, resting, states_of, tune_alone
from engine.planning.voicing_costs import Ask
from engine.planning.weights import grains
from engine.song.model import Pin, Step, TuneNote
from engine.voicing.model import Voicing
from engine.voicing.textures import Texture, textures
from engine.voicing.tones import is_dominant

OVER_PATTERN = ("shell", "triad", "rootless")
"""The methods that a right hand has for itself, over a left hand that plays a pattern (common practice)."""


LOW_TUNE = "the tune goes too low for a left hand under it at {}, what comes after the chord is not played"
NO_TUNE = "no voicing of {} with the tune on top fits the hands, the chord is played without it"


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """A written event with its states in one texture; `leaves` when they are of another one, for want of any in this;
    `pinned` when the player insists on them; `warnings` say what had to give."""

    chord: Chord | None
    states: States
    ask: Ask
    warnings: tuple[str, ...] = ()
    leaves: bool = False
    pinned: bool = False

    @property
    def node(self) -> Costs:
        """The standing costs of the pairs."""
        return _leaving(self.states) if self.leaves else self.states.node


@lru_cache(maxsize=4096)
def _leaving(states: States) -> Costs:
    node: Costs = np.minimum(states.node + np.int32(grains("leave", 1)), CEILING)
    return node


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """`route[visit]` is the number of the stage that step `visit` plays; stages that share a fingering are one.

    `held[number]` is the texture of a stage's section.
    """

    steps: tuple[Step, ...]
    request: Request
    stages: tuple[Stage, ...]
    route: tuple[int, ...]
    held: tuple[Texture, ...]

    @property
    def nodes(self) -> list[Costs]:
        """The standing costs of each stage's pairs."""
        return [stage.node for stage in self.stages]

    def stage(self, visit: int) -> Stage:
        """Return the stage that a step plays."""
        return self.stages[self.route[visit]]

    def slots(self, visit: int) -> tuple[Slot, ...]:
        """Return when the strokes of a step's pattern come."""
        return slots_at(self.steps, visit, self.request.within(self.steps[visit].section))

    def tune(self, visit: int) -> tuple[TuneNote, ...]:
        """Return what the player's own tune has over a step, onsets in beats from its start."""
        return next((own.notes for own in self.request.own_tune if own.written == self.steps[visit].written), ())

    def edges(self) -> list[Edge]:
        """Return the costs of the shift from each visit to the next one, after the last to the first, as in a loop."""
        visits = range(len(self.steps))
        return edges_between([self._leg(visit, (visit + 1) % len(self.steps)) for visit in visits])

    def changes(self, visit: int) -> bool:
        """Return whether the texture is another one than at the visit before, hands playing at both."""
        before, after = self.route[visit - 1], self.route[visit]
        plays = self.stages[before].states is not resting() and self.stages[after].states is not resting()
        return plays and self.held[before] != self.held[after]

    def _leg(self, one: int, two: int) -> "Leg":
        request = self.request.within(self.steps[two].section)
        return Leg(self.stage(one).states, self.stage(two).states, self.changes(two), request)


@dataclass(frozen=True, slots=True)
class Leg:
    """The way from some states to others: whether the texture changes, and what is asked for where it leads."""

    before: States
    after: States
    changes: bool
    request: Request


def edges_between(legs: Sequence[Leg]) -> list[Edge]:
    """Return the costs of each way, both hands: those of one sound and the same hands are found at once."""
    alike: dict[tuple[tuple[str, str], str], list[int]] = {}
    for number, leg in enumerate(legs):
        parts = roles(leg.request.hands, bool(leg.after.left.figures))
        alike.setdefault((parts, leg.request.sound), []).append(number)
    found: list[Edge | None] = [None] * len(legs)
    for ((left, right), sound), numbers in alike.items():
        lefts: list[tuple[Side, Side, bool]] = [
            (legs[at].before.left, legs[at].after.left, legs[at].changes) for at in numbers
        ]
        rights = [(legs[at].before.right, legs[at].after.right, legs[at].changes) for at in numbers]
        costs = zip(numbers, shifts(lefts, left, sound), shifts(rights, right, sound), strict=True)
        for number, one, two in costs:
            found[number] = one, two
    return [edge for edge in found if edge is not None]


@dataclass(frozen=True, slots=True, eq=False)
class Open:
    """A song before its textures are chosen. `stages[number]` are a stage's in each texture that its section may
    hold, `sections[number]` is the section's name."""

    steps: tuple[Step, ...]
    request: Request
    stages: tuple[Mapping[Texture, Stage], ...]
    route: tuple[int, ...]
    sections: tuple[str, ...]

    def holding(self, chosen: Mapping[str, Texture]) -> Problem:
        """Return the problem with a texture chosen for each section."""
        held = tuple(chosen[section] for section in self.sections)
        stages = tuple(options[texture] for options, texture in zip(self.stages, held, strict=True))
        return Problem(self.steps, self.request, stages, self.route, held)

    def textures(self, section: str) -> tuple[Texture, ...]:
        """Return the textures that a section may hold."""
        return tuple(self.stages[self.sections.index(section)])


def roles(hands: str, pattern: bool = False) -> tuple[str, str]:
    """Return the roles of the left and the right hand: the one on top has the tune; `pattern`: the left hand plays
    one, and never the tune."""
    if pattern:
        return PATTERN, TUNE
    return (TUNE, "") if hands == "left" else ("", TUNE)


def pose(steps: Sequence[Step], request: Request) -> Open:
    """Return the problem of planning `steps`.

    Raises:
        NoGrip: not one chord fits the hands.
    """
    numbers: dict[object, int] = {}
    tune = {held.written: held.notes for held in request.tune}
    patterns = [pattern_of(steps, visit, request.within(step.section)) for visit, step in enumerate(steps)]
    places = [(_place(steps, visit, request), pattern) for visit, pattern in enumerate(patterns)]
    route = [numbers.setdefault(place, len(numbers)) for place in places]
    firsts = [route.index(number) for number in range(len(numbers))]
    own = {tune.written: tune.notes for tune in request.own_tune}
    asks = [
        _with_tune(
            _ask(steps, visit, request, tune.get(steps[visit].written, ()), patterns[visit]),
            request.within(steps[visit].section),
            own.get(steps[visit].written, ()),
            steps[visit].beats,
        )
        for visit in firsts
    ]
    alike: dict[Ask, list[Chord]] = {}
    for visit, ask in zip(firsts, asks, strict=True):
        chord = steps[visit].chord
        if chord is not None:
            alike.setdefault(ask, []).append(chord)
    known = {ask: states_of(chords, ask) for ask, chords in alike.items()}
    stages = tuple(
        _options(steps[visit], ask, request.within(steps[visit].section), known.get(ask, {}))
        for visit, ask in zip(firsts, asks, strict=True)
    )
    sounding = [number for number, options in enumerate(stages) if next(iter(options.values())).chord]
    silent = [number for number in sounding if next(iter(stages[number].values())).states is resting()]
    if sounding and silent == sounding:
        step, stage = steps[firsts[sounding[0]]], next(iter(stages[sounding[0]].values()))
        raise NoGrip(step.symbol, f"{step.section}, bar {step.bar}", stage.warnings[-1].partition(": ")[2])
    return Open(tuple(steps), request, stages, tuple(route), tuple(steps[visit].section for visit in firsts))


def _place(steps: Sequence[Step], visit: int, request: Request) -> object:
    step = steps[visit]
    # The same written event in another key, after a change of key inside the song, is another place for the hands;
    # and a last chord is another one than the same chord on the way, where a bass player would leave us without a root.
    ends = _ends(steps, visit, request)
    return (step.written, step.chord, step.key, ends) if request.share_passes else step.index


def _ends(steps: Sequence[Step], visit: int, request: Request) -> bool:
    """Return whether the song ends on a chord whose bass might be left to somebody else."""
    return visit == len(steps) - 1 and request.within(steps[visit].section).bass and not request.loop


def _ask(steps: Sequence[Step], visit: int, request: Request, tune: tuple[int, ...], pattern: Pattern | None) -> Ask:
    own = request.within(steps[visit].section)
    plays = pattern is not None
    told = setting(own, _resolves_to_minor(steps, visit), _ends(steps, visit, request), tune, plays)
    asked = _asked(own.texture, own.method, plays)
    left, right = (beneath_tune(zone, tune, 12) for zone in zones(own, plays))
    top = beneath_tune(top_zone(own, plays), tune, 7)
    tenths = own.sound != "organ" and any(texture.method == "spread" for texture in asked)
    return Ask(told, asked, own.reach, (left, right), top, tenths=tenths, tune=tune, pattern=pattern)


def _with_tune(ask: Ask, request: Request, notes: tuple[TuneNote, ...], beats: Fraction) -> Ask:
    """Return how a chord is asked for with the player's own tune on top, if it sounds as the chord begins."""
    note = at_onset(notes)
    if request.hands == "left":
        return ask
    ask = replace(ask, between=after_onset(notes, beats), sound=request.sound) if after_onset(notes, beats) else ask
    if note is None:
        return ask
    held = tuple(sorted({one.note for one in notes if is_held(one, beats)}))
    told = reaching(ask.setting, note, request.ceiling)
    left, right = ask.zones
    # Where the top lies is the tune's affair.
    return replace(ask, setting=told, zones=(left, with_tune(right, note)), top=Zone(0, 127), own=Top(note, held))


def _asked(texture: str, method: str, pattern: bool) -> tuple[Texture, ...]:
    """Return the textures that are asked for; over a pattern those that a right hand has for itself."""
    if not pattern:
        return textures(texture, method)
    if method != AUTO:
        return textures(texture, "triad" if method == "spread" else method)
    return tuple(one for one in textures(texture, method) if one.method in OVER_PATTERN)


def _options(
    step: Step, ask: Ask, request: Request, known: Mapping[Chord, tuple[States | None, ...]]
) -> dict[Texture, Stage]:
    """Return a stage in each texture asked for."""
    if step.chord is None:
        alone = tune_alone(ask) if ask.own or ask.between else resting()
        return dict.fromkeys(ask.textures, Stage(None, alone, ask))
    pin = next((pin for pin in request.pins if pin.place == step.place), None)
    if pin is not None:
        for one in (ask, *_rolling(request, ask)):
            found = _pinned(step, pin, one)
            if found is not None:
                return dict.fromkeys(ask.textures, Stage(step.chord, found, one, pinned=True))
    warning = () if pin is None else (_pin_words(step),)
    own = dict(zip(ask.textures, known[step.chord], strict=True))
    if all(found is not None for found in own.values()):
        return {texture: Stage(step.chord, found, ask, warning) for texture, found in own.items() if found}
    instead = _relaxed(step, request, ask)
    return {
        texture: Stage(step.chord, found, ask, warning) if found else replace(instead, warnings=warning + words)
        for texture, found in own.items()
        for words in [instead.warnings or (_left_words(step, texture),)]
    }


def _left_words(step: Step, texture: Texture) -> str:
    wanted = f"{texture.name} {texture.method}"
    return f"no {wanted} voicing of {step.symbol} fits the hands, another texture takes its place"


def _relaxed(step: Step, request: Request, ask: Ask) -> Stage:
    """Give up what the trade gives up first: the texture and its method, since others share the chord between the
    hands, leave out the fifth or give the right hand the tenth; then that it sounds at once; then what the symbol asks
    for beyond third and seventh. The same whatever was asked for, so that all textures have the same way out."""
    assert step.chord is not None
    every_texture = _asked(AUTO, AUTO, ask.pattern is not None)
    wide = replace(ask, textures=every_texture, tenths=request.sound != "organ")
    bare = replace(wide, setting=replace(ask.setting, partial=True))
    remedies: list[tuple[Ask, tuple[str, ...]]] = [
        (wide, ()),
        *((rolling, (f"{step.symbol} lies wider than the hands reach",)) for rolling in _rolling(request, wide)),
        (bare, (f"{step.symbol} does not fit the hands whole, some of it is left out",)),
    ]
    if ask.pattern is not None:
        held = replace(bare, pattern=None, textures=textures(AUTO, AUTO), setting=replace(bare.setting, pattern=False))
        remedies.append((held, (f"{ask.pattern.name} does not fit the left hand at {step.symbol}, a chord is held",)))
    with_tune = tuple(remedies)
    if ask.between:
        words = LOW_TUNE.format(step.symbol)
        remedies += [(replace(wider, between=()), (words, *told)) for wider, told in with_tune]
    if ask.own is not None:
        words, region = NO_TUNE.format(step.symbol), top_zone(request, ask.pattern is not None)
        remedies += [(replace(wider, own=None, between=(), top=region), (words, *told)) for wider, told in with_tune]
    for wider, told in remedies:
        found = every(step.chord, wider)
        if found is not None:
            return Stage(step.chord, found, wider, told, leaves=True)
    nothing = f"{step.symbol} does not fit the hands: {_way_out(request)}"
    return Stage(step.chord, resting(), ask, (nothing,))


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
    if pin.left is not None and ask.pattern is not None:
        # What the player insists on is held.
        ask = replace(ask, pattern=None, setting=replace(ask.setting, pattern=False))
    fingers = (pin.left_fingers, pin.right_fingers)
    if pin.left is not None and pin.right is not None:
        return only(step.chord, ask, Voicing(pin.left, pin.right), fingers)
    return completing(step.chord, ask, pin.left, pin.right, fingers)


def _pin_words(step: Step) -> str:
    return f"the pin on {step.symbol} does not fit the hands, move the pin or widen the reach"
