"""What the left hand strikes in a step as it is written: its chord, or the strokes of its pattern one after another."""

from fractions import Fraction

from engine.planning.model import PlannedNote, PlannedStep
from engine.song.signs import ALONE

Written = tuple[tuple[PlannedNote, ...], Fraction]
"""Notes that are struck together, none for a rest, and how long they are written, in quarters."""


def left_strokes(one: PlannedStep) -> tuple[Written, ...]:
    """Return what is written for the left hand, that together lasts as long as the step.

    Off-beats are written straight, swing is said once; keys that ring on under the next stroke are written until it.
    """
    if not one.strokes or one.step.mark in ALONE:
        return ((one.strokes[0].notes if one.strokes else one.left, in_quarters(one, one.step.beats)),)
    begin = one.step.beat - 1
    end = begin + one.step.beats
    places = [one.written(stroke) for stroke in one.strokes]
    found: list[Written] = [((), places[0][0] - begin)]
    following = [*(start for start, _ in places[1:]), end]
    for stroke, (start, until), after in zip(one.strokes, places, following, strict=True):
        ends = min(until, after)
        found += [(stroke.notes, ends - start), ((), after - ends)]
    return tuple((notes, in_quarters(one, beats)) for notes, beats in found if beats > 0)


def in_quarters(one: PlannedStep, beats: Fraction) -> Fraction:
    """Return beats of a step's meter in quarters."""
    return beats * one.step.meter.beat_quarters
