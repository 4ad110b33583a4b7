"""The player's own tune in time: each of its notes once, in the tune's own rhythm, over the chord below it."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from engine.performance.comping import Timing
from engine.performance.events import Note
from engine.performance.sound_settings import ACCENT, Touch
from engine.planning.model import PlannedNote, PlannedStep, PlannedStroke


def below_tune(steps: Sequence[PlannedStep]) -> tuple[PlannedStep, ...]:
    """Return steps without the tune: the right hand has what of the chord lies below it."""
    return tuple(replace(one, right=one.right[:-1]) if one.tune_on_top else one for one in steps)


def tune_notes(timing: Timing, touch: Touch) -> list[Note]:
    """Return the notes of the tune, a little louder than the chord; a note lasts into the next chord as written, and
    until the next note at most. One that was held before the first step sounds from its beginning."""
    velocity = min(127, touch.right + ACCENT)
    struck = [each for index in range(len(timing.steps)) for each in _in_step(timing, index)]
    ends = [*(two[0] for _, two in pairwise(struck)), timing.ends[-1]] if struck else []
    return [
        Note(at, note.key, max(0.0, min(until, end) - at), velocity, touch.channel_of("right"))
        for (at, until, note), end in zip(struck, ends, strict=True)
    ]


def cut_by(tune: Sequence[Note], chords: Sequence[Note]) -> list[Note]:
    """Return the notes of chords, each ended where the tune strikes the same key."""
    return [
        replace(note, lasts=min([note.lasts, *(one.seconds - note.seconds for one in tune if _meets(one, note))]))
        for note in chords
    ]


def _meets(tune: Note, note: Note) -> bool:
    return tune.key == note.key and note.seconds <= tune.seconds < note.ends


def _in_step(timing: Timing, index: int) -> list[tuple[float, float, PlannedNote]]:
    """Return the notes that begin in a step: when, until when as written, and which."""
    planned = timing.steps[index]
    found = [(*_seconds(timing, index, stroke), note) for stroke in planned.tune for note in stroke.notes]
    begins = timing.starts[index][0]
    if index == 0 and planned.tune_on_top and (not found or found[0][0] > begins):
        return [(begins, timing.ends[0], planned.right[-1]), *found]
    return found


def _seconds(timing: Timing, index: int, stroke: PlannedStroke) -> tuple[float, float]:
    begins, ends = timing.in_beats(index, stroke)
    return timing.seconds(index, begins), timing.seconds(index, ends)
