"""Comping rhythms and a left hand's patterns laid over the chords of a plan: which stroke sounds what, until when.

A chord that changes between two strokes moves to the nearer one, as players do: half a beat early on the and of 2, an
off-beat late where the rhythm leaves out the beat. Where none is near it gets a stroke of its own. Pushes, stops and
rings of the chart go before the rhythm. No stroke of a chord lasts into the next. Source: common practice.
"""

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from engine.performance.onsets import onsets
from engine.performance.rhythms import Rhythm, rhythm_named
from engine.planning.model import PlannedStep, PlannedStroke
from engine.song.model import Step
from engine.song.signs import ALONE
from engine.theory.pulses import in_beats, pulses

NEAR = Fraction(2, 3)
"""A stroke is near when it is not further than a swung off-beat, in pulses (own choice)."""

STOP_BEATS = 0.5
"""A stopped chord sounds this part of a beat. Source: common practice."""


@dataclass(frozen=True, slots=True)
class Strike:
    """One stroke of one hand: the chord of step `step` (its place in the plan) sounds from `seconds` to `ends`, of a
    pattern only its `keys`."""

    step: int
    seconds: float
    ends: float
    accent: int = 0
    tone: int | None = None
    keys: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class _Near:
    """A strike, and how far it is from the beginning and from the end of its step, in pulses."""

    strike: Strike
    since: Fraction
    left: Fraction


@dataclass(frozen=True, slots=True)
class Timing:
    """The steps of a plan in time: for each when it is written, when it is struck and when it ends (seconds)."""

    steps: tuple[PlannedStep, ...]
    starts: tuple[tuple[float, float], ...]
    ends: tuple[float, ...]
    tempo: float
    feel: str
    own: tuple[Rhythm, ...] = ()

    def rhythm(self, index: int) -> Rhythm | None:
        """Return the rhythm of a step, None where chords are held."""
        return rhythm_named(self.steps[index].step.comp, self.own)

    def in_beats(self, index: int, stroke: PlannedStroke) -> tuple[Fraction, Fraction]:
        """Return where a planned stroke of a step begins and ends, in beats from the start of the bar."""
        meter = self.steps[index].step.meter
        swing = self.feel == "swing" and meter.lower <= 4
        begins, ends = (in_beats(at, pulses(meter), swing, meter.compound) for at in (stroke.place, stroke.until))
        return begins, ends

    def seconds(self, index: int, beats: Fraction) -> float:
        """Return when a place in a step's bar comes, in beats from the start of that bar."""
        step = self.steps[index].step
        return self.starts[index][0] + float(beats - (step.beat - 1)) * step.beat_seconds(self.tempo)

    def in_strokes(self, index: int, hand: str) -> bool:
        """Return whether a hand plays a step in strokes, by a rhythm or by a pattern of its own, instead of holding."""
        return self.rhythm(index) is not None or (hand == "left" and bool(self.steps[index].strokes))


def strikes(timing: Timing, hand: str) -> tuple[Strike, ...]:
    """Return the strokes of one hand (left or right) in every step that it plays in strokes, in the order of time."""
    written = [_in_step(timing, index, hand) for index in range(len(timing.steps))]
    played: list[list[Strike]] = [[near.strike for near in found] for found in written]
    for index in range(len(timing.steps)):
        if timing.in_strokes(index, hand):
            _lead_in(timing, index, hand, written, played)
    line = sorted((strike for found in played for strike in found), key=lambda strike: strike.seconds)
    return tuple(_cut(line, timing, hand))


def _in_step(timing: Timing, index: int, hand: str) -> list[_Near]:
    """Return the strokes that the rhythm has inside a step, the chart's own marks honoured; a pattern's where the left
    hand plays one."""
    rhythm, step = timing.rhythm(index), timing.steps[index].step
    if step.mark in ALONE:
        return []
    if hand == "left" and timing.steps[index].strokes:
        patterned = [_in_pattern(timing, index, stroke) for stroke in timing.steps[index].strokes]
        return [near for near in patterned if not _given_up(timing, index, near)]
    if rhythm is None:
        return []
    place = step.beat - 1
    found = []
    for onset in onsets(rhythm, hand, step.meter, step.bar, timing.feel):
        if not place <= onset.start < place + step.beats:
            continue
        at, until = timing.seconds(index, onset.start), timing.seconds(index, onset.end)
        strike = Strike(index, at, until, onset.stroke.accent, onset.stroke.tone)
        near = _Near(strike, (onset.start - place) / onset.pulse, (place + step.beats - onset.start) / onset.pulse)
        if not _given_up(timing, index, near):
            found.append(near)
    return found


def _in_pattern(timing: Timing, index: int, stroke: PlannedStroke) -> _Near:
    """Return a stroke of a pattern in time."""
    step, parts = timing.steps[index].step, pulses(timing.steps[index].step.meter)
    begins, ends = timing.in_beats(index, stroke)
    place, pulse = step.beat - 1, parts[min(int(stroke.place), len(parts) - 1)].beats
    until = min(timing.seconds(index, ends), timing.ends[index])
    strike = Strike(index, timing.seconds(index, begins), until, keys=tuple(note.key for note in stroke.notes))
    return _Near(strike, (begins - place) / pulse, (place + step.beats - begins) / pulse)


def _given_up(timing: Timing, index: int, near: _Near) -> bool:
    """True for a stroke that a push has taken the place of, or that would lead into a vamp or out of it."""
    steps = timing.steps
    if steps[index].step.mark == "push" and near.since == 0:
        return True
    if index + 1 == len(steps):
        return False
    following = timing.starts[index + 1]
    if steps[index + 1].step.mark == "push" and near.strike.seconds >= following[1] - 1e-9:
        return True
    return _leaves_vamp(steps[index].step, steps[index + 1].step) and near.left <= Fraction(1, 2)


def _leaves_vamp(step: Step, following: Step) -> bool:
    """True at both ends of a vamp: nobody knows there which chord comes next."""
    return following.section_start and bool(step.until or following.until)


def _lead_in(timing: Timing, index: int, hand: str, written: list[list[_Near]], played: list[list[Strike]]) -> None:
    """See to it that a step's chord is struck when it changes: by the nearest stroke, else by one of its own."""
    mark, rhythm = timing.steps[index].step.mark, timing.rhythm(index)
    if not timing.steps[index].keys:
        return
    if mark == "push" or mark in ALONE:
        played[index].insert(0, _own(timing, index, hand, played[index]))
        return
    if goes_on(timing.steps, index) and not _leaves_vamp(*_pair(timing, index)):
        return
    late = written[index][0].since if written[index] else None
    early = _early(timing, index, written, played)
    anticipates = rhythm is not None and rhythm.anticipates
    if late == 0:
        return
    if early is not None and (late is None or early < late or (early == late and anticipates)):
        taken = played[index - 1].pop()
        played[index].insert(0, replace(taken, step=index, keys=()))
    elif late is None or late > NEAR:
        played[index].insert(0, _own(timing, index, hand, played[index]))


def _pair(timing: Timing, index: int) -> tuple[Step, Step]:
    return timing.steps[index - 1].step, timing.steps[index].step


def goes_on(steps: tuple[PlannedStep, ...], index: int) -> bool:
    """True where a step only says again what the hands play already."""
    if index == 0:
        return False
    before, now = steps[index - 1], steps[index]
    same = (before.step.comp, before.step.chord, _hands(before)) == (now.step.comp, now.step.chord, _hands(now))
    return same and not now.step.mark and before.step.mark not in ALONE


def _hands(step: PlannedStep) -> tuple[tuple[int, ...], tuple[int, ...]]:
    return tuple(note.key for note in step.left), tuple(note.key for note in step.right)


def _early(timing: Timing, index: int, written: list[list[_Near]], played: list[list[Strike]]) -> Fraction | None:
    """Return how far before a change its last stroke is, None when it is far, or the only one of the chord before."""
    if index == 0 or not written[index - 1] or not played[index - 1]:
        return None
    last = written[index - 1][-1]
    free = last.strike == played[index - 1][-1] and (len(played[index - 1]) > 1 or goes_on(timing.steps, index - 1))
    return last.left if free and last.left <= NEAR else None


def _own(timing: Timing, index: int, hand: str, following: list[Strike]) -> Strike:
    """Return a stroke of the chord's own, until the next stroke of the rhythm; a stop is cut short."""
    step, struck, ends = timing.steps[index].step, timing.starts[index][1], timing.ends[index]
    strokes = timing.steps[index].strokes if hand == "left" else ()
    keys = tuple(note.key for note in strokes[0].notes) if strokes else ()
    if step.mark == "stop":
        ends = min(ends, struck + STOP_BEATS * step.beat_seconds(timing.tempo))
        return Strike(index, struck, ends, 1, keys=keys)
    return Strike(index, struck, following[0].seconds if following else ends, 1 if step.mark else 0, keys=keys)


def _cut(line: list[Strike], timing: Timing, hand: str) -> list[Strike]:
    """Return the strikes ended where the next one begins, a broken chord's where the chord changes; those of a pattern
    last as planned."""
    limits = _limits(line, timing, hand)
    following = [*(after.seconds for _, after in pairwise(line)), float("inf")][: len(line)]
    cut = []
    for strike, after in zip(line, following, strict=True):
        rings = strike.tone is not None or bool(strike.keys)
        until = limits[strike.step] if rings else min(limits[strike.step], after)
        cut.append(replace(strike, ends=max(min(strike.ends, until), strike.seconds)))
    return cut


def _limits(line: list[Strike], timing: Timing, hand: str) -> list[float]:
    """Return for each step when its chord has to be gone: when the next is written, or struck before that."""
    first: dict[int, float] = {}
    for strike in reversed(line):
        first[strike.step] = strike.seconds
    limits = list(timing.ends)
    for index in range(len(limits) - 2, -1, -1):
        if goes_on(timing.steps, index + 1):
            limits[index] = limits[index + 1]
        elif not timing.in_strokes(index + 1, hand):
            limits[index] = min(limits[index], timing.starts[index + 1][1])
        else:
            limits[index] = min(limits[index], first.get(index + 1, limits[index]))
    return limits
