"""The hardest shifts of a whole set: each met once or many times, ranked by time needed against time available."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from engine.hand.moves import lifted, moves
from engine.planning.model import Plan, PlannedStep, PlannedStroke
from engine.practice.difficulty import COMFORT, HandTime, available, hand_times, load, needed
from engine.practice.model import Meeting, Shift, hands_of, leaving
from engine.song.model import Song

TOP = 10
"""Shifts that a report shows unless asked for more."""

Entry = tuple[Song, Plan]


@dataclass(frozen=True, slots=True)
class HardShift:
    """A shift with all the places where it is met, the tightest first. `needs` is in seconds; `steps` are the planned
    chord before and the one after at the tightest place."""

    shift: Shift
    needs: float
    hands: tuple[HandTime, HandTime]
    met: tuple[Meeting, ...]
    steps: tuple[PlannedStep, PlannedStep]

    @property
    def tightest(self) -> Meeting:
        """Where it has the least time."""
        return self.met[0]

    @property
    def load(self) -> float:
        """Time needed over time available where it is tightest; above 1 the hands come late."""
        return load(self.needs, self.tightest.available)

    @property
    def difficulty(self) -> float:
        """How far the loads lie beyond a comfortable half, added up over all the places it is met."""
        return sum(max(0.0, load(self.needs, place.available) - COMFORT) for place in self.met)

    @property
    def songs(self) -> tuple[str, ...]:
        """The titles of the songs it is met in, the tightest first, each once."""
        return tuple(dict.fromkeys(place.title for place in self.met))


@dataclass(frozen=True, slots=True)
class Ranking:
    """All the shifts of a set in which a finger moves, the hardest first. `played` counts the shifts as they come by,
    `still` those of them in which the hands already hold the next chord."""

    shifts: tuple[HardShift, ...]
    played: int = 0
    still: int = 0

    @property
    def difficulty(self) -> float:
        """The difficulty of all shifts together."""
        return sum(hard.difficulty for hard in self.shifts)

    @property
    def tight(self) -> int:
        """How many shifts have less than twice the time they need."""
        return sum(hard.load > COMFORT for hard in self.shifts)

    def covered(self, top: int = TOP) -> float:
        """Return the share (0 to 1) of the difficulty that the `top` hardest shifts carry; 0.0 where none is tight."""
        whole = self.difficulty
        return sum(hard.difficulty for hard in self.shifts[:top]) / whole if whole else 0.0

    def find(self, sign: str) -> HardShift | None:
        """Return the shift with this sign, None when the set has it no longer."""
        return next((hard for hard in self.shifts if hard.shift.sign == sign), None)


Met = tuple[Shift, Meeting, tuple[PlannedStep, PlannedStep]]


def rank(entries: Sequence[Entry]) -> Ranking:
    """Return the ranking of a set's planned songs.

    Ties fall by what the shift needs, then by its sign, so that the order is the same on every evening.
    """
    return ranked(met for number, entry in enumerate(entries) for met in meetings(number, *entry))


def ranked(met: Iterable[Met]) -> Ranking:
    """Return the ranking of shifts met one by one: the same both hands and fingers before and after are one."""
    places: dict[Shift, list[tuple[Meeting, tuple[PlannedStep, PlannedStep]]]] = {}
    played = still = 0
    for shift, place, steps in met:
        played += 1
        if shift.still:
            still += 1
        else:
            places.setdefault(shift, []).append((place, steps))
    hard = [found for shift, where in places.items() if (found := _hard(shift, where)).needs > 0]
    hard.sort(key=lambda one: (-one.load, -one.needs, one.shift.sign))
    return Ranking(tuple(hard), played, still)


def _hard(shift: Shift, where: list[tuple[Meeting, tuple[PlannedStep, PlannedStep]]]) -> HardShift:
    ordered = sorted(where, key=lambda pair: (pair[0].available, pair[0].song, pair[0].index))
    needs = needed(shift, read=not ordered[0][0].inside)
    return HardShift(shift, needs, hand_times(shift), tuple(place for place, _ in ordered), ordered[0][1])


def meetings(number: int, song: Song, plan: Plan) -> Iterator[Met]:
    """Yield the shifts of a song in the order they are played; bars without a chord give the hands more time.

    After each chord come the ways of the left hand inside its pattern, after each vamp its seam, the way from its last
    chord back to its first.
    """
    here, steps = (number, song, plan), plan.steps
    last: int | None = None
    top: int | None = None
    between = Fraction(0)
    for index, after in enumerate(steps):
        if after.step.section_start:
            top = None
        if after.left or after.right:
            if last is not None:
                yield _met(here, (last, index), between)
            top = index if top is None else top
            last, between = index, Fraction(0)
            yield from _inside(here, index)
        elif last is not None:
            between += after.step.beats
        if _turns_back(steps, index) and top is not None and last is not None and last != top:
            yield _met(here, (last, top), between)


def _turns_back(steps: Sequence[PlannedStep], index: int) -> bool:
    """True at the last step of a vamp."""
    ends = index + 1 == len(steps) or steps[index + 1].step.section_start
    return bool(steps[index].step.until) and ends


def _met(here: tuple[int, Song, Plan], way: tuple[int, int], between: Fraction) -> Met:
    """Return the shift from one step of a plan to another one as it is met there."""
    number, song, plan = here
    before, after = (plan.steps[place] for place in way)
    shift = Shift(leaving(before), hands_of(after))
    time = available(before.step, after.step, song.tempo, between - _playing(before, shift), song.feel)
    step, symbols = after.step, (before.step.symbol, after.step.symbol)
    place = Meeting(
        number, song.title, step.section, step.pass_, step.bar, step.beat, *way, symbols, song.tempo, time
    )  # fmt: skip
    direct = way[1] == way[0] + 1
    return shift, place, (before, after if direct else arriving(before, after))


def _playing(before: PlannedStep, shift: Shift) -> Fraction:
    """Return the beats of a chord in which the left hand still plays its pattern or the right one its own tune, 0
    where they have nowhere to go."""
    hands = zip((before.strokes, before.tune), hand_times(shift), strict=True)
    lasts = [strokes[-1] for strokes, time in hands if strokes and time.seconds]
    return max((_beat_of(before, stroke) - before.step.beat for stroke in lasts), default=Fraction(0))


def _beat_of(planned: PlannedStep, stroke: PlannedStroke) -> Fraction:
    """Return the beat of its bar, from 1, on which a stroke comes, straight."""
    return 1 + planned.written(stroke)[0]


def _inside(here: tuple[int, Song, Plan], index: int) -> Iterator[Met]:
    """Yield the ways of the left hand from position to position of a pattern, and of the right one through its tune."""
    number, song, plan = here
    planned, step = plan.steps[index], plan.steps[index].step
    still = replace(planned, strokes=(), tune=())
    lefts = [
        (one, two, replace(still, left=one.hand), replace(still, left=two.hand))
        for one, two in pairwise(planned.strokes)
    ]
    rights = [
        (one, two, replace(still, right=one.hand), replace(still, right=two.hand))
        for one, two in pairwise(planned.tune)
    ]
    for one, two, before, after in lefts + rights:
        shift = Shift(hands_of(before), hands_of(after))
        if shift.still:
            continue
        beat = _beat_of(planned, two)
        time = float(beat - _beat_of(planned, one)) * step.beat_seconds(song.tempo)
        place = Meeting(
            number, song.title, step.section, step.pass_, step.bar, beat, index, index, (step.symbol, step.symbol),
            song.tempo, time,
        )  # fmt: skip
        yield shift, place, (before, arriving(before, after))


def arriving(before: PlannedStep, after: PlannedStep) -> PlannedStep:
    """Return a planned step with its moves counted from another step than the one before it in its plan."""
    was, now = leaving(before), hands_of(after)
    left, right = (
        tuple(
            replace(note, move=move.kind, left_from=move.left_from)
            for note, move in zip(sorted(notes, key=lambda note: note.key), moves(one, other), strict=True)
        )
        for notes, one, other in zip((after.left, after.right), was, now, strict=True)
    )
    return replace(
        after, left=left, right=right, lifted_left=lifted(was[0], now[0]), lifted_right=lifted(was[1], now[1])
    )
