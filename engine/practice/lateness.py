"""How late the hands come to each shift when a song is played in time, kept with the practice log."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from statistics import median

from engine.planning.model import Plan
from engine.practice.model import Shift, hands_of, leaving

HEARD = 0.05
"""Seconds of lateness from which a shift is kept. Source: own choice; fingers of one chord are themselves spread over
some 30 ms (see performance/listening)."""

WORST = 20
"""Shifts of one ride that are kept at most, the latest ones (own choice: a log stays small)."""


@dataclass(frozen=True, slots=True)
class Ride:
    """A song, or a part of it, played in time at `tempo` (as the song file counts): the signs of the shifts that came
    late, with the seconds, the latest first. `shifts` counts those that were heard at all."""

    when: datetime
    title: str
    tempo: float
    shifts: int
    late: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Late:
    """How late a shift was when it was last heard: seconds at a tempo; negative is early."""

    seconds: float
    tempo: float
    when: datetime


def ride(when: datetime, title: str, tempo: float, plan: Plan, heard: Mapping[int, float]) -> Ride:
    """Return a ride out of what was `heard`: place in the plan -> seconds after its time, as its last finger came.

    A shift met several times counts with the middle of its seconds; a chord with nothing before it is no shift.
    """
    seconds: dict[str, list[float]] = {}
    for index, after in sorted(heard.items()):
        if sign := _sign(plan, index):
            seconds.setdefault(sign, []).append(after)
    middles = [(sign, round(median(lates), 2)) for sign, lates in seconds.items()]
    late = sorted((pair for pair in middles if pair[1] >= HEARD), key=lambda pair: (-pair[1], pair[0]))
    return Ride(when, title, tempo, len(seconds), tuple(late[:WORST]))


def _sign(plan: Plan, index: int) -> str:
    steps = plan.steps
    before = next((steps[place] for place in range(index - 1, -1, -1) if steps[place].keys), None)
    if before is None or not steps[index].keys:
        return ""
    shift = Shift(leaving(before), hands_of(steps[index]))
    return "" if shift.still else shift.sign


def last_heard(found: Iterable[tuple[str, Late]]) -> dict[str, Late]:
    """Return how late each shift was the last time, by its sign; of the same moment the later one in the log."""
    latest: dict[str, Late] = {}
    for sign, late in found:
        known = latest.get(sign)
        if known is None or late.when.replace(tzinfo=None) >= known.when.replace(tzinfo=None):
            latest[sign] = late
    return latest
