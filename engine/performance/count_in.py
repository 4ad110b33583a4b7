"""The count before the music: which beats are clicked, for a feel, a meter and a count in words.

Where nothing else is named the source is common practice: swing two bars "1 . 2 . 1 2 3 4", a ballad one bar, a waltz
two bars, 6/8 two bars in two, 7/8 spoken in its grouping, a very slow beat divided, a pickup left out of the count.
"""

import re
from dataclasses import dataclass
from fractions import Fraction

from engine.theory.meter import Meter
from engine.theory.pulses import GROUPS

BALLAD_TEMPO = 76.0
"""At this tempo or below one bar is count enough. Source: common practice, a slow bar of four lasts three seconds."""

DIVIDED_BEAT = 1.2
"""A beat longer than this many seconds is divided ("1 & 2 &"). Source: common practice, below 50 beats a minute."""

FEWEST_CLICKS = 2
"""One click gives no tempo: where a pickup leaves fewer, another bar is counted in front."""


@dataclass(frozen=True, slots=True)
class Click:
    """One click: `lasts` seconds until the next one, or until the music begins.

    `strength` is 3 on the first beat of a bar, 2 on the first of a group, 1 on a beat, 0 between beats; `spoken` what
    a bandleader says on it.
    """

    seconds: float
    lasts: float
    strength: int
    spoken: str


def count_in(
    meter: Meter, tempo: float, feel: str = "straight", count: str = "", pickup: Fraction = Fraction(0)
) -> tuple[Click, ...]:
    """Return the clicks before the music, which begins when the last one has lasted.

    Args:
        tempo: as in a song file: quarters a minute, dotted quarters in compound meters.
        count: one bar, two bars, none, a number of beats before the first note; "" is the usual count of the feel.
        pickup: beats played before bar 1. They are left out of a count in bars.

    Raises:
        ValueError: a tempo that is not above 0, a pickup below 0, or a count in other words.
    """
    if tempo <= 0 or pickup < 0:
        raise ValueError(f"no count at tempo {tempo} with a pickup of {pickup}")
    bars, beats = _read_count(count or usual_count(meter, tempo, feel), meter)
    length = Fraction(beats) if bars == 0 else _bars_before(bars, meter, pickup)
    if not length:
        return ()
    # The count ends where the music begins; its beats keep their place in the bar.
    first = _first_beat(length, pickup, meter) if bars == 0 else Fraction(0)
    spots = _spots(first, length, meter, feel if bars == 2 else "straight")
    beat_seconds = meter.beat_seconds(tempo)
    if beat_seconds > DIVIDED_BEAT:
        spots = _divided(spots, length, meter)
    ends = [spot[0] for spot in spots[1:]] + [length]
    return tuple(
        Click(float(at) * beat_seconds, float(end - at) * beat_seconds, strength, spoken)
        for (at, strength, spoken), end in zip(spots, ends, strict=True)
    )


def usual_count(meter: Meter, tempo: float, feel: str) -> str:
    """Return the count in words that players expect when a chart says nothing."""
    if feel == "ballad" or (tempo <= BALLAD_TEMPO and not meter.compound and meter.beats > 3):
        return "one bar"
    return "two bars" if feel == "swing" or meter.beats <= 3 else "one bar"


def count_seconds(clicks: tuple[Click, ...]) -> float:
    """Return the seconds from the first click to the music, 0.0 without clicks."""
    return clicks[-1].seconds + clicks[-1].lasts if clicks else 0.0


_Spot = tuple[Fraction, int, str]
"""Beats from the start of the count, strength, spoken."""


def _read_count(words: str, meter: Meter) -> tuple[int, int]:
    """Return (bars, beats): one of them is 0, or both for no count."""
    text = words.strip().lower()
    known = {"none": (0, 0), "one bar": (1, 0), "two bars": (2, 0)}
    if text in known:
        return known[text]
    if re.fullmatch(r"\d{1,2}", text) and int(text) <= 4 * meter.beats:
        return 0, int(text)
    raise ValueError(f"count {words!r}: say one bar, two bars, none or up to {4 * meter.beats} beats")


def _bars_before(bars: int, meter: Meter, pickup: Fraction) -> Fraction:
    """Return the beats of a count of `bars`, the pickup taken out, with enough left to hear the tempo."""
    length = bars * meter.beats - pickup
    enough = min(FEWEST_CLICKS, bars * meter.beats)
    while length < enough:
        length += meter.beats
    return length


def _first_beat(length: Fraction, pickup: Fraction, meter: Meter) -> Fraction:
    """Return where in its bar (0 = first beat) a count of `length` beats starts, so that it leads up to the pickup."""
    return (-length - pickup) % meter.beats


def _spots(first: Fraction, length: Fraction, meter: Meter, feel: str) -> list[_Spot]:
    """Return every clicked beat. A swing count of two bars has the first one in half notes, spoken 1 and 2."""
    spots: list[_Spot] = []
    halves = feel == "swing" and meter.beats == 4 and length > meter.beats
    at = Fraction(0)
    while at < length:
        place = (first + at) % meter.beats
        if halves and at < meter.beats:
            if place % 2 == 0:
                spots.append((at, 3 if place == 0 else 1, str(1 + place // 2)))
        else:
            spots.append((at, beat_strength(place, meter), str(1 + place // 1 - _group_start(place, meter))))
        at += 1
    return spots


def _group_start(place: Fraction, meter: Meter) -> int:
    """Return the beat from which a beat is counted aloud: its group's first in eighths, else the bar's."""
    groups = GROUPS.get((meter.upper, meter.lower), ()) if meter.lower >= 8 else ()
    starts = [sum(groups[:i]) for i in range(len(groups))]
    return max((start for start in starts if start <= place), default=0)


def beat_strength(place: Fraction, meter: Meter) -> int:
    """Return how strong a beat is: 3 on the first of the bar (`place` 0), 2 on the first of a group, 1 elsewhere."""
    groups = GROUPS.get((meter.upper, meter.lower), ())
    starts = {sum(groups[:i]) for i in range(1, len(groups))}
    return 3 if place < 1 else 2 if place // 1 in starts else 1


def _divided(spots: list[_Spot], length: Fraction, meter: Meter) -> list[_Spot]:
    """Return the spots with soft clicks between them: halves of a simple beat, thirds of a compound one."""
    parts = 3 if meter.compound else 2
    between = [
        (at + Fraction(part, parts), 0, "&")
        for at, _, _ in spots
        for part in range(1, parts)
        if at + Fraction(part, parts) < length
    ]
    return sorted(spots + between)
