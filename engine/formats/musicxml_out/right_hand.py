"""What the right hand strikes in a step as it is written: its chord, then the notes of the player's own tune."""

from fractions import Fraction

from engine.formats.musicxml_out.left_hand import Written, in_quarters
from engine.planning.model import PlannedNote, PlannedStep


def right_strokes(one: PlannedStep) -> tuple[Written, ...]:
    """Return what is written for the right hand, that together lasts as long as the step.

    The chord is written until the tune goes on, or rests; off-beats are written straight, swing is said once. A note of
    the tune that sounds on into the next chord is written with it again.
    """
    begin = one.step.beat - 1
    end = begin + one.step.beats
    struck: list[tuple[Fraction, Fraction, tuple[PlannedNote, ...]]] = [
        (*one.written(note), note.notes) for note in one.tune
    ]
    if struck and struck[0][0] == begin:
        struck[0] = (begin, struck[0][1], one.right)
    else:
        struck.insert(0, (begin, end, one.right))
    found: list[Written] = []
    for (start, until, notes), after in zip(struck, [*(start for start, _, _ in struck[1:]), end], strict=True):
        ends = min(until, after)
        found += [(notes, in_quarters(one, ends - start)), ((), in_quarters(one, after - ends))]
    return tuple((notes, quarters) for notes, quarters in found if quarters > 0)
