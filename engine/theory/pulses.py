"""What is counted in a bar of any meter: its pulses, and where a place between two of them falls, straight or swung."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate

from engine.theory.meter import Meter

GROUPS: dict[tuple[int, int], tuple[int, ...]] = {
    (5, 4): (3, 2), (7, 4): (4, 3), (5, 8): (3, 2), (7, 8): (2, 2, 3), (8, 8): (3, 3, 2), (10, 8): (3, 3, 2, 2),
    (11, 8): (3, 3, 3, 2),
}  # fmt: skip
"""Meter -> groups of its beats; eighths are spoken group by group. Source: common practice; a chart may mean others."""

OFF_BEAT, SWUNG = Fraction(1, 2), Fraction(2, 3)
"""Where an off-beat is written and where it falls in swing and in pulses of three. Source: common practice."""


@dataclass(frozen=True, slots=True)
class Pulse:
    """What a comping hand counts in a bar: where it begins and how long it is, in beats of the meter; `three` parts."""

    start: Fraction
    beats: Fraction
    three: bool


@lru_cache(maxsize=64)
def pulses(meter: Meter) -> tuple[Pulse, ...]:
    """Return the pulses of a bar: quarters, dotted quarters in compound meters, the groups of 5/8 or 7/8."""
    if meter.compound:
        return tuple(Pulse(Fraction(beat), Fraction(1), True) for beat in range(meter.beats))
    if meter.lower <= 4:
        quarter = Fraction(meter.lower, 4)
        return tuple(Pulse(quarter * at, quarter, False) for at in range(int(meter.beats / quarter)))
    groups = _groups(meter)
    starts = accumulate(groups[:-1], initial=0)
    unit = meter.lower // 4
    return tuple(
        Pulse(Fraction(at), Fraction(long), 2 * long == 3 * unit) for at, long in zip(starts, groups, strict=True)
    )


def _groups(meter: Meter) -> tuple[int, ...]:
    """Return the groups of short beats: those that are spoken, else quarters with what is left over in the last."""
    unit = meter.lower // 4
    whole, over = divmod(meter.upper, unit)
    plain = (unit,) * (whole - 1) + (unit + over,) if whole else (over,)
    return GROUPS.get((meter.upper, meter.lower), plain)


def in_beats(place: Fraction, parts: tuple[Pulse, ...], swing: bool = False, thirds: bool = False) -> Fraction:
    """Return a place in pulses as beats from the bar's start; past the bar the last pulse goes on."""
    pulse = parts[min(int(place), len(parts) - 1)]
    whole, part = divmod(place - min(int(place), len(parts) - 1), 1)
    if (swing or pulse.three) and not thirds:
        part = part * SWUNG / OFF_BEAT if part < OFF_BEAT else SWUNG + (part - OFF_BEAT) * (1 - SWUNG) / OFF_BEAT
    return pulse.start + (whole + part) * pulse.beats


def in_pulses(beats: Fraction, parts: tuple[Pulse, ...]) -> Fraction:
    """Return beats from the bar's start as a place in pulses, straight; past the bar the last pulse goes on."""
    number = max((number for number, pulse in enumerate(parts) if pulse.start <= beats), default=0)
    return number + (beats - parts[number].start) / parts[number].beats
