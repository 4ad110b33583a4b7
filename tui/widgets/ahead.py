"""The bars that come after the present one, side by side."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.song.model import Step
from tui.session.steps import bar_starts
from tui.widgets.cells import Rows, beside, blank, pad, text_row
from tui.widgets.lettering import words_rows, written

COUNT = 4
"""Bars that are looked ahead."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """What each of the coming bars says; "" behind the end of the song."""

    bars: tuple[str, ...]
    coarse: bool = False
    """True for consoles whose font lacks the letters: the bars are typed."""


def ahead(steps: Sequence[Step], index: int, coarse: bool = False) -> Ahead:
    """Return the bars after the one in which the step at `index` lies; a new section is named before its first."""
    starts = bar_starts(tuple(steps))
    coming = [start for start in starts if start > index][:COUNT]
    ends = [next((start for start in starts if start > first), len(steps)) for first in coming]
    bars = []
    for first, end in zip(coming, ends, strict=True):
        name = f"{steps[first].section}: " if steps[first].section_start else ""
        bars.append(name + " ".join(written(step.symbol) for step in steps[first:end]))
    return Ahead(tuple(bars + [""] * (COUNT - len(bars))), coarse)


def ahead_rows(coming: Ahead, width: int, height: int) -> Rows:
    """Return the bars in one row, from three rows on in letters."""
    wide = width // max(1, len(coming.bars))
    parts = []
    for bar in coming.bars:
        edge = [text_row("│", 2, "dim", ground="back")] * max(0, height)
        drawn = height >= 3 and not coming.coarse
        body = words_rows(bar, wide - 2, height, "after") if drawn else [text_row(bar, wide - 2, "after")]
        parts.append(beside(edge, pad(body, wide - 2, height)))
    return pad(beside(*parts) if parts else blank(width, height), width, height)
