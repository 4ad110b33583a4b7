"""What of a form can be read in two ways, or by the signs alone, and how it was read: one line each.

A sign that closes a repeat without one that opens is read by some as a way back to the top; after D.C. and D.S. some
take the repeats again. Source: common practice, and where music21's playing order differs from ours.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from engine.formats.musicxml_in.measure import Measure
from engine.formats.musicxml_in.playing_order import Frame

WORDS = {"dacapo": "D.C.", "dalsegno": "D.S."}


def form_doubts(measures: Sequence[Measure], frames: Sequence[Frame], order: Sequence[int]) -> list[str]:
    """Return how repeats without a beginning, endings without a second one and jumps were read."""
    return [*_unopened(measures, frames), *_lone_endings(measures, frames), *_jumps(measures, order)]


def _unopened(measures: Sequence[Measure], frames: Sequence[Frame]) -> Iterator[str]:
    for before, frame in pairwise(frames):
        if frame.start == before.end and not measures[frame.start].forward:
            closer, start = measures[frame.closers[0]].number, measures[frame.start].number
            yield (
                f"measure {closer}: the repeat has no sign that opens it, read as from measure {start}, "
                "where the one before ends"
            )


def _lone_endings(measures: Sequence[Measure], frames: Sequence[Frame]) -> Iterator[str]:
    for frame in frames:
        passes = {numbers for numbers in frame.endings.values() if numbers}
        if len(passes) == 1:
            number = measures[min(frame.endings)].number
            yield f"measure {number}: an ending without a second one, the song goes on behind it the last time"


def _jumps(measures: Sequence[Measure], order: Sequence[int]) -> Iterator[str]:
    for at, measure in enumerate(measures):
        if measure.jump and at in order:
            end = measures[order[-1]]
            until = f"to Fine in measure {end.number}" if end.fine else "to the end"
            yield f"measure {measure.number}: after {WORDS.get(measure.jump, measure.jump)} the song is played {until}"
