"""Where the band is: the sections in a strip, the bar and the pass, and the whole song in bars."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.plan.model import PlannedStep
from engine.song.model import Step
from tui.widgets.cells import Rows, blank, pad, text_row
from tui.widgets.lettering import written

_BARS = "▁▂▃▅▇"


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


def roadmap_rows(steps: Sequence[Step], index: int, width: int, height: int) -> Rows:
    """Return the strip of sections with the present one marked, then a line with bar and pass."""
    if width <= 0 or height <= 0 or not steps:
        return blank(width, height)
    index = max(0, min(index, len(steps) - 1))
    return pad([_strip(steps, index, width), text_row(place_words(steps, index), width, "text")], width, height)


def place_words(steps: Sequence[Step], index: int) -> str:
    """Return where the step lies: `Verse, bar 5 of 8, pass 2 of 3`."""
    step = steps[index]
    bar = f"bar {step.bar} of {step.bars}" if step.bar else "pickup"
    passes = f", pass {step.pass_} of {step.passes}" if step.passes > 1 else ""
    return f"{step.section}, {bar}{passes}"


def _strip(steps: Sequence[Step], index: int, width: int) -> list[tuple[str, str]]:
    row: list[tuple[str, str]] = []
    here = 0
    for stretch in stretches(steps):
        present = stretch.first <= index < stretch.end
        name = stretch.name + (f" x{stretch.passes}" if stretch.passes > 1 else "")
        if present:
            here = len(row)
        text = f"[{name}]" if present else f" {name} "
        row += text_row(text, len(text), "here" if present else "bar")
    start = max(0, min(here - width // 3, len(row) - width))
    return row[start : start + width]


def effort_bar(effort: float, hardest: float) -> str:
    """Return a bar from ▁ to ▇ for an effort against the song's hardest one."""
    share = effort / hardest if hardest > 0 else 0.0
    return _BARS[max(0, min(len(_BARS) - 1, int(share * len(_BARS))))]


def chart_rows(
    steps: Sequence[PlannedStep],
    index: int,
    width: int,
    height: int,
    pins: frozenset[int] = frozenset(),
    loop: tuple[int, int] | None = None,
) -> Rows:
    """Return the whole song in bars, scrolled to the step at `index`.

    Each chord stands over its effort, as a bar and a figure; `pins` are indexes of pinned steps (◆), `loop` the first and
    last index of a loop (marked with brackets).
    """
    if width <= 0 or height <= 0:
        return blank(width, height)
    hardest = max((step.effort for step in steps), default=0.0)
    rows: Rows = []
    for place, planned in enumerate(steps):
        mark = ">" if place == index else "◆" if place in pins else " "
        text = f"{mark} {planned.step.section} {planned.step.bar} {written(planned.step.symbol)} "
        text += f"{effort_bar(planned.effort, hardest)} {planned.effort:.1f}"
        rows.append(text_row(text, width, "here" if place == index else "text"))
    return pad(rows[max(0, index - height // 2) :], width, height)
