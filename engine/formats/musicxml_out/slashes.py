"""A chart in slash notation: chord symbols over a slash for each beat, on one staff, for players without a plan.

Source: MusicXML 4.0 (W3C), <notehead>slash; that slashes of whole beats have no stem is common practice.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import groupby
from xml.etree.ElementTree import Element, SubElement

from engine.formats.musicxml_out.directions import add_symbol
from engine.formats.musicxml_out.lengths import Length, written
from engine.formats.musicxml_out.measures import Measure, measures, played
from engine.formats.musicxml_out.notes import add_sign, add_value
from engine.planning.model import Plan, PlannedStep
from engine.song.model import Song, Step
from engine.song.unfolding import unfold

LINE = ("B", "4")
"""Where a slash stands: on the middle line of the treble staff."""


def chart_measures(song: Song) -> tuple[Measure, ...]:
    """Return the measures of a song without hands: what the roadmap plays several times running is a repeat."""
    steps = tuple(PlannedStep(step, "", (), (), (), (), 0.0, ()) for step in unfold(song))
    found: list[Measure] = []
    for _, same in groupby(_passes(measures(song, Plan(steps, 0.0, 0.0, False))), key=_alike):
        turns = list(same)
        found += turns[0] if len(turns) == 1 else _repeated(turns[0], len(turns))
    return tuple(found)


def _passes(found: tuple[Measure, ...]) -> list[tuple[Measure, ...]]:
    starts = [place for place, measure in enumerate(found) if measure.first]
    return [found[start:end] for start, end in zip(starts, [*starts[1:], len(found)], strict=True)]


def _alike(turn: tuple[Measure, ...]) -> object:
    """Return what is the same for passes that one repeat can stand for: there is no repeat inside a repeat."""
    if any(measure.repeat or measure.times or measure.ending for measure in turn):
        return turn[0].steps[0].step.index
    first = turn[0].steps[0].step
    return first.section, first.key, [played(measure.steps) for measure in turn]


def _repeated(turn: tuple[Measure, ...], times: int) -> list[Measure]:
    found = [replace(turn[0], repeat=True), *turn[1:]]
    return [*found[:-1], replace(found[-1], times=times)]


def slash_lengths(measure: Measure) -> Iterator[Fraction]:
    """Yield the lengths in quarters of a measure's slashes and rests."""
    for one in measure.steps:
        yield from _lengths(one)


def add_slashes(element: Element, measure: Measure, divisions: int) -> None:
    """Append a measure's symbols and slashes; where no chord is to be played, rests."""
    for one in measure.steps:
        add_symbol(element, one)
        values = [value for quarters in _lengths(one) for value in written(quarters)]
        for value in values:
            _slash(SubElement(element, "note"), one.step, value, divisions)
        add_sign(element[-1], one.step.mark)


def _lengths(one: PlannedStep) -> Iterator[Fraction]:
    """Yield how long a step lasts in quarters, cut at the beats; without a chord in one piece."""
    at, end = one.step.beat, one.step.beat + one.step.beats
    while at < end:
        stop = end if one.step.chord is None else min(Fraction(math.floor(at) + 1), end)
        yield (stop - at) * one.step.meter.beat_quarters
        at = stop


def _slash(note: Element, step: Step, value: Length, divisions: int) -> None:
    if step.chord is None:
        SubElement(note, "rest")
    else:
        # No pitch: a slash says when, and a program that plays the score must not make a tune of it.
        place = SubElement(note, "unpitched")
        SubElement(place, "display-step").text, SubElement(place, "display-octave").text = LINE
    add_value(note, value, divisions, "1")
    if step.chord is not None:
        if value.quarters == step.meter.beat_quarters:
            SubElement(note, "stem").text = "none"
        SubElement(note, "notehead").text = "slash"
