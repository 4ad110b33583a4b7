"""What the left hand strikes in a step as it is written: its chord, or the strokes of its pattern one after another."""

from fractions import Fraction
from itertools import pairwise

from engine.planning.model import PlannedNote, PlannedStep
from engine.song.signs import ALONE
from engine.theory.pulses import in_beats, pulses

Written = tuple[tuple[PlannedNote, ...], Fraction]
"""Notes that are struck together, none for a rest, and how long they are written, in quarters."""


def left_strokes(one: PlannedStep) -> tuple[Written, ...]:
    """Return what is written for the left hand, that together lasts as long as the step.

    Off-beats are written straight, swing is said once; keys that ring on under the next stroke are written until it.
    """
    if not one.strokes or one.step.mark in ALONE:
        return ((one.strokes[0].notes if one.strokes else one.left, in_quarters(one, one.step.beats)),)
    parts = pulses(one.step.meter)
    begin = one.step.beat - 1
    end = begin + one.step.beats
    starts = [in_beats(stroke.place, parts, thirds=one.step.meter.compound) for stroke in one.strokes]
    found: list[Written] = [((), starts[0] - begin)]
    for stroke, (start, after) in zip(one.strokes, pairwise([*starts, end]), strict=True):
        until = min(in_beats(stroke.until, parts, thirds=one.step.meter.compound), after)
        found += [(stroke.notes, until - start), ((), after - until)]
    return tuple((notes, in_quarters(one, beats)) for notes, beats in found if beats > 0)


def in_quarters(one: PlannedStep, beats: Fraction) -> Fraction:
    """Return beats of a step's meter in quarters."""
    return beats * one.step.meter.beat_quarters
