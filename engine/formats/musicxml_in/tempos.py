"""The tempos of a part: which of the written ones last, and how a song counts them."""

from collections.abc import Sequence
from itertools import groupby

from engine.formats.musicxml_in.measure import Measure
from engine.song.section_tempo import FASTEST, SLOWEST

LASTING = 4
"""Measures that a tempo must hold to be one of the song's; a shorter one is a ritardando or a hold (own choice)."""


def steady(measures: Sequence[Measure]) -> list[str]:
    """Set the pace of each measure that a song is to have, and return the doubts about what was left out.

    The first tempo holds from the start; without one every pace stays 0.0.
    """
    first = next((measure.tempo for measure in measures if measure.tempo), 0.0)
    if not first:
        return []
    now = first
    for measure in measures:
        now = measure.tempo or now
        measure.pace = _counted(now, measure)
    return _lasting(measures)


def _counted(quarters: float, measure: Measure) -> float:
    """Return quarters a minute as a song counts: quarters, dotted quarters in compound meters."""
    tempo = quarters / float(measure.meter.beat_quarters if measure.meter.compound else 1)
    return min(FASTEST, max(SLOWEST, round(tempo, 1)))


def _lasting(measures: Sequence[Measure]) -> list[str]:
    """Let a pace that does not last be the one before it."""
    doubts: list[str] = []
    held = 0.0
    for pace, same in groupby(measures, key=lambda measure: measure.pace):
        run = list(same)
        if held and len(run) < LASTING and pace != held:
            short = f"for {len(run)} measure{'' if len(run) == 1 else 's'} only, left out"
            doubts += [f"measure {run[0].number}: the tempo changes to {pace:g} {short}"] if run[0].tempo else []
            for measure in run:
                measure.pace = held
        else:
            held = pace
    return doubts
