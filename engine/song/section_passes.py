"""Where the band is: passes of a section that follow one another, and which of them is played."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.song.model import Step


@dataclass(frozen=True, slots=True)
class Stretch:
    """One section as played, its passes in a row together: steps `first` up to `end` (not included)."""

    name: str
    passes: int
    first: int
    end: int


def stretches(steps: Sequence[Step]) -> tuple[Stretch, ...]:
    """Return the sections in the order played; passes that follow one another count as one stretch."""
    found: list[Stretch] = []
    for place, step in enumerate(steps):
        if found and found[-1].name == step.section:
            last = found[-1]
            found[-1] = Stretch(last.name, last.passes + step.section_start, last.first, place + 1)
        else:
            found.append(Stretch(step.section, 1, place, place + 1))
    return tuple(found)


def pass_of(steps: Sequence[Step], index: int) -> tuple[int, int]:
    """Return the pass of the present stretch and how many it has: (2, 3) in the second of three verses in a row."""
    stretch = next(part for part in stretches(steps) if part.first <= index < part.end)
    begun = sum(step.section_start for step in steps[stretch.first + 1 : index + 1])
    return min(1 + begun, stretch.passes), stretch.passes
