"""A plan cut into measures, with repeats kept where every turn through them is played alike."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from engine.planning.model import Plan, PlannedNote, PlannedStep
from engine.song.model import Bar, Song
from engine.song.repeats import closes_ending, opens_ending


@dataclass(frozen=True, slots=True)
class Measure:
    """A measure as written. `first` is True at the start of a section's pass, `last` at its end; `ending` are the turns
    that play it, shown where it `opens` and `closes`; `times` (0: none) is how often a repeat ending here is played."""

    steps: tuple[PlannedStep, ...]
    first: bool = False
    last: bool = False
    repeat: bool = False
    times: int = 0
    ending: tuple[int, ...] = ()
    opens: bool = False
    closes: bool = False

    @property
    def quarters(self) -> Fraction:
        """How long it lasts, in quarter notes."""
        return sum((one.step.beats * one.step.meter.beat_quarters for one in self.steps), Fraction(0))

    @property
    def full(self) -> bool:
        """False for a pickup and for the shortened measure before one."""
        return self.quarters == self.steps[0].step.meter.bar_quarters


def measures(song: Song, plan: Plan) -> tuple[Measure, ...]:
    """Return a song's measures in playing order."""
    bars = {section.name: section.bars for section in song.sections}
    found: list[Measure] = []
    for one in _passes(plan.steps):
        written = bars.get(one[0].step.section, ())
        folded = _folded(one, written)
        cut = folded if folded is not None else [Measure(steps) for steps in _cut(one)]
        cut[0] = replace(cut[0], first=True)
        cut[-1] = replace(cut[-1], last=True)
        found += cut
    return tuple(found)


def _passes(steps: Sequence[PlannedStep]) -> Iterator[list[PlannedStep]]:
    begun: list[PlannedStep] = []
    for step in steps:
        if step.step.section_start and begun:
            yield begun
            begun = []
        begun.append(step)
    if begun:
        yield begun


def _cut(steps: Sequence[PlannedStep]) -> Iterator[tuple[PlannedStep, ...]]:
    """Yield a pass's measures as played: a new one where the written bar changes or starts over."""
    held: list[PlannedStep] = []
    for one in steps:
        before = held[-1].step if held else None
        here = one.step
        if before is not None and (
            here.written[1] != before.written[1] or here.written[2] <= before.written[2] or here.turn != before.turn
        ):
            yield tuple(held)
            held = []
        held.append(one)
    if held:
        yield tuple(held)


def _folded(steps: Sequence[PlannedStep], bars: Sequence[Bar]) -> list[Measure] | None:
    """Return the written bars with their repeats, or None where a turn is played differently from another."""
    if all(one.step.turns == 1 for one in steps):
        return None
    cut = sorted(_cut(steps), key=lambda measure: measure[0].step.written[1])
    found: list[Measure] = []
    for place, same in groupby(cut, key=lambda measure: measure[0].step.written[1]):
        turns = list(same)
        if any(played(turn) != played(turns[0]) for turn in turns):
            return None
        found.append(_written(turns[0], bars, place))
    return found


def played(steps: Sequence[PlannedStep]) -> object:
    """Return what is heard of steps, to tell whether others are played alike."""
    hands = [[(note.key, note.finger) for note in _notes(one)] for one in steps]
    return [(one.step.symbol, one.step.beats, hand) for one, hand in zip(steps, hands, strict=True)]


def _notes(one: PlannedStep) -> Iterator[PlannedNote]:
    yield from (*one.left, *one.right)
    for stroke in (*one.strokes, *one.tune):
        yield from stroke.notes


def _written(steps: tuple[PlannedStep, ...], bars: Sequence[Bar], place: int) -> Measure:
    bar = bars[place]
    return Measure(
        steps,
        repeat=bar.repeat_start,
        times=bar.repeat_times,
        ending=bar.ending,
        opens=opens_ending(bars, place),
        closes=closes_ending(bars, place),
    )
