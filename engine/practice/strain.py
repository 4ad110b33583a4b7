"""Care for the hands: wide stretches and repetitions are counted, a pause and a narrower version proposed.

It counts, it does not diagnose. Source of the advice: common practice of teachers (warm up, pauses, a few minutes and a
few repetitions of anything new, stop before it hurts); the numbers are our own choice where they say so.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from engine.hand.keyboard import OCTAVE, UNIT, WHITE, span
from engine.planning.model import PlannedNote, PlannedStep, Request
from engine.practice.log import Try, evening
from engine.practice.ranking import Entry

CAUTION: tuple[str, ...] = (
    "Before you begin: warm up, sit well, take pauses, and stop before anything hurts.",
    "The shed counts wide stretches and repetitions and proposes pauses and a narrower version; it knows nothing of "
    "your hands. What is good for them, teachers and clinicians decide, not a table.",
    "If playing hurts, tingles or makes a hand numb or weak, stop, and ask one of them.",
)
"""Shown once, at the first use of the shed."""

COMFORT = 2 * UNIT
"""Millimetres inside the reach from which a stretch counts as wide: a white key, as comfort ends in hand/spans."""
ENOUGH = 6
"""Tries of one shift in a row after which another spot is better. Source: common practice, "about six"."""
SITTING = 25.0
"""Minutes at the keyboard after which a pause is proposed (own choice; half an hour is common advice)."""
REST = 5.0
"""Minutes without a try that count as a pause (own choice)."""
MANY = 6.0
"""Wide stretches a minute at which the narrower version is proposed (own choice)."""
LEAST = OCTAVE - 40
"""Millimetres under which no reach is narrowed: a seventh (own choice)."""


@dataclass(frozen=True, slots=True)
class Stretches:
    """How often a hand stands wide in a song: chords of the left, of the right, and both together a minute."""

    left: int
    right: int
    a_minute: float

    @property
    def count(self) -> int:
        """Both hands together."""
        return self.left + self.right


def wide_hands(step: PlannedStep, reach: tuple[float, float]) -> tuple[bool, bool]:
    """Return for the left and the right hand whether it stands wide; `reach` in millimetres."""
    return any(_wide(notes, reach[0]) for notes in step.positions), _wide(step.right, reach[1])


def _wide(notes: Sequence[PlannedNote], reach: float) -> bool:
    keys = [note.key for note in notes]
    return bool(keys) and span(min(keys), max(keys)) > reach - COMFORT


def stretches(entry: Entry, reach: tuple[float, float]) -> Stretches:
    """Return how often the hands stand wide in a planned song at its tempo."""
    song, plan = entry
    wide = [wide_hands(step, reach) for step in plan.steps]
    left, right = (sum(hands[side] for hands in wide) for side in (0, 1))
    minutes = sum(float(one.step.beats) * one.step.beat_seconds(song.tempo) for one in plan.steps) / 60
    return Stretches(left, right, (left + right) / minutes if minutes else 0.0)


def in_a_row(tries: Sequence[Try], now: datetime) -> int:
    """Return how many tries of this evening's last shift came in a row, without a pause or another shift between."""
    count, later = 0, now
    for one in reversed(tries):
        if one.sign != tries[-1].sign or evening(one.when) != evening(now) or _apart(one.when, later) >= REST:
            break
        count, later = count + 1, one.when
    return count


def sitting(tries: Iterable[Try], now: datetime) -> float:
    """Return the minutes of this evening since its last pause; a clock set back or forward counts as a pause."""
    start: datetime | None = None
    last: datetime | None = None
    for one in tries:
        if evening(one.when) == evening(now):
            start = one.when if start is None or last is None or not 0 <= _apart(last, one.when) < REST else start
            last = one.when
    if start is None or last is None or not 0 <= _apart(last, now) < REST:
        return 0.0
    return max(_apart(start, now), 0.0)


def _apart(before: datetime, after: datetime) -> float:
    """Return the minutes between two moments on the player's wall clock."""
    return (after.replace(tzinfo=None) - before.replace(tzinfo=None)) / timedelta(minutes=1)


def advice(tries: Sequence[Try], now: datetime, wide: Stretches | None = None) -> tuple[str, ...]:
    """Return what is proposed now, the most pressing first; nothing is ever forbidden."""
    said = []
    minutes = sitting(tries, now)
    if minutes >= SITTING:
        said.append(f"{minutes:.0f} minutes without a pause: rest your hands for five")
    row = in_a_row(tries, now)
    if row >= ENOUGH:
        said.append(f"{row} tries in a row: another spot is better now, this one comes back")
    if wide is not None and wide.a_minute >= MANY:
        said.append(f"{wide.count} wide stretches, {wide.a_minute:.0f} a minute: the narrower version is one key away")
    return tuple(said)


def narrower(request: Request) -> Request | None:
    """Return the request in which each hand reaches a white key less, None where that is too little for chords."""
    reach = tuple(max(one - WHITE, min(one, LEAST)) for one in request.reach)
    return replace(request, reach=(reach[0], reach[1])) if reach != request.reach else None
