"""Where the strokes of a comping rhythm fall in a bar of any meter, straight, swung or in thirds."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from engine.performance.rhythms import FIGURE, Rhythm, Stroke
from engine.theory.meter import Meter
from engine.theory.pulses import in_beats, pulses


@dataclass(frozen=True, slots=True)
class Onset:
    """A stroke in its bar: beats from the bar's start to its beginning and end, and the length of its pulse."""

    start: Fraction
    end: Fraction
    pulse: Fraction
    stroke: Stroke


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
