"""Where the strokes of a comping rhythm fall in a bar of any meter, straight, swung or in thirds."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate

from engine.performance.count_in import GROUPS
from engine.performance.rhythms import FIGURE, Rhythm, Stroke
from engine.theory.meter import Meter

OFF_BEAT, SWUNG = Fraction(1, 2), Fraction(2, 3)
"""Where an off-beat is written and where it falls in swing and in pulses of three. Source: common practice."""


@dataclass(frozen=True, slots=True)
class Pulse:
    """What a comping hand counts in a bar: where it begins and how long it is, in beats of the meter; `three` parts."""

    start: Fraction
    beats: Fraction
    three: bool


@dataclass(frozen=True, slots=True)
class Onset:
    """A stroke in its bar: beats from the bar's start to its beginning and end, and the length of its pulse."""

    start: Fraction
    end: Fraction
    pulse: Fraction
    stroke: Stroke


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


@lru_cache(maxsize=4096)
def onsets(rhythm: Rhythm, hand: str, meter: Meter, bar: int, feel: str = "straight") -> tuple[Onset, ...]:
    """Return the strokes of one hand (left or right) in a bar of a section, counted from 1, in the order of time."""
    figure = rhythm.bars[(bar - 1) % len(rhythm.bars)]
    given = figure.left if hand == "left" else figure.right
    parts = pulses(meter)
    found = []
    for again in range(0, len(parts), FIGURE):
        for stroke in given:
            place = stroke.place + again
            if place < len(parts):
                swung = (feel == "swing" and meter.lower <= 4, rhythm.thirds)
                start, end = (in_beats(at, parts, *swung) for at in (place, place + stroke.length))
                found.append(Onset(start, end, parts[int(place)].beats, stroke))
    return tuple(sorted(found, key=lambda onset: onset.start))


def in_beats(place: Fraction, parts: tuple[Pulse, ...], swing: bool = False, thirds: bool = False) -> Fraction:
    """Return a place in pulses as beats from the bar's start; past the bar the last pulse goes on."""
    pulse = parts[min(int(place), len(parts) - 1)]
    whole, part = divmod(place - min(int(place), len(parts) - 1), 1)
    if (swing or pulse.three) and not thirds:
        part = part * SWUNG / OFF_BEAT if part < OFF_BEAT else SWUNG + (part - OFF_BEAT) * (1 - SWUNG) / OFF_BEAT
    return pulse.start + (whole + part) * pulse.beats
