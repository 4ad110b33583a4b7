"""The whole song in bars: chords over the effort of the shift into each, with cursor, pins and a loop."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.planning.model import PlannedStep
from engine.song.model import Step
from engine.song.section_passes import pass_of
from tui.widgets.cells import Cell, Row, Rows, blank, overlay, pad, put, text_row
from tui.widgets.lettering import written

LEGEND = "▁▂▃▅▇ effort  ◆ pinned  ┃ loop  ! warning  ‹ push  ' stop  ‿ ring  ― hold"

_LEVELS = "▁▂▃▅▇"
_MARKS = {"push": "‹", "stop": "'", "ring": "‿", "hold": "―"}
"""Signs after a chord, as in notation: ring is a tie into nothing. None may read as a part of the symbol, nor may what
stands for it in ASCII (see `cells`): no - and no ^."""


@dataclass(frozen=True, slots=True)
class BarPlace:
    """A bar as played: its number in the section and the indexes of its steps."""

    number: int
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass of a section: its heading and its bars."""

    heading: str
    bars: tuple[BarPlace, ...]


def passes(steps: Sequence[PlannedStep]) -> tuple[Pass, ...]:
    """Return the song as played: every pass of every section with its bars."""
    found: list[tuple[str, list[BarPlace]]] = []
    played = [planned.step for planned in steps]
    for index, planned in enumerate(steps):
        step = planned.step
        if index == 0 or step.section_start or step.section != steps[index - 1].step.section:
            present, in_all = pass_of(played, index)
            turn = f", pass {present} of {in_all}" if in_all > 1 else ""
            bars_in_all = "1 bar" if step.bars == 1 else f"{step.bars} bars"
            found.append((f"{step.section}{turn}, {bars_in_all}", []))
        bars = found[-1][1]
        if bars and bars[-1].number == step.bar and steps[bars[-1].steps[-1]].step.beat < step.beat:
            bars[-1] = BarPlace(step.bar, (*bars[-1].steps, index))
        else:
            bars.append(BarPlace(step.bar, (index,)))
    return tuple(Pass(heading, tuple(bars)) for heading, bars in found)


def effort_bar(effort: float, hardest: float) -> str:
    """Return a bar from ▁ to ▇ for an effort against the song's hardest one."""
    share = effort / hardest if hardest > 0 else 0.0
    return _LEVELS[max(0, min(len(_LEVELS) - 1, int(share * len(_LEVELS))))]


def chart_rows(
    steps: Sequence[PlannedStep],
    index: int,
    width: int,
    height: int,
    pins: frozenset[int] = frozenset(),
    loop: tuple[int, int] | None = None,
) -> Rows:
    """Return the song in bars, scrolled so that the step at `index` shows.

    `pins` are the indexes of pinned steps, `loop` the indexes of a loop's first and last step.
    """
    if width <= 0 or height <= 0 or not steps:
        return blank(width, height)
    rows, start, _, _ = _whole(steps, index, width, height, pins, loop)
    return pad(rows[start : start + height], width, height)


def step_at(steps: Sequence[PlannedStep], index: int, width: int, height: int, x: int, y: int) -> int | None:
    """Return the first step of the bar that `chart_rows` shows at column `x`, row `y`, None where there is none."""
    if width <= 0 or height <= 0 or not steps:
        return None
    _, start, places, wide = _whole(steps, index, width, height, frozenset(), None)
    bars = next((bars for row, bars in places if row <= start + y < row + 2), ())
    return bars[x // wide].steps[0] if x // wide < len(bars) else None


def _whole(
    steps: Sequence[PlannedStep],
    index: int,
    width: int,
    height: int,
    pins: frozenset[int],
    loop: tuple[int, int] | None,
) -> tuple[Rows, int, list[tuple[int, tuple[BarPlace, ...]]], int]:
    """Return all rows, the first that shows, the first row of each line of bars with its bars, and a bar's columns."""
    index = max(0, min(index, len(steps) - 1))
    parts = passes(steps)
    needed = max(_needed([steps[at].step for at in bar.steps]) for part in parts for bar in part.bars)
    sheet = _Sheet(steps, index, width, needed, pins, loop)
    rows: Rows = []
    places: list[tuple[int, tuple[BarPlace, ...]]] = []
    for part in parts:
        rows.append(text_row(part.heading, width, "cue", ground="back"))
        for first in range(0, len(part.bars), sheet.across):
            bars = part.bars[first : first + sheet.across]
            if any(index in bar.steps for bar in bars):
                sheet.cursor = len(rows)
            places.append((len(rows), bars))
            rows += sheet.line(bars)
    start = max(0, min(sheet.cursor - height // 3, len(rows) - height))
    return rows, min(start, sheet.cursor), places, width // sheet.across


def _needed(bar: Sequence[Step]) -> int:
    """Return the columns in which no chord of a bar is cut, and its effort has room: E♭m… would be another chord."""
    longest = max(len(step.symbol) + (step.mark in _MARKS) for step in bar)
    return max(12, 1 + len(bar) * (longest + 1))


class _Sheet:
    """A chart being drawn, `across` bars a line of two rows: chords and effort. `needed` columns hold any bar."""

    def __init__(
        self,
        steps: Sequence[PlannedStep],
        index: int,
        width: int,
        needed: int,
        pins: frozenset[int],
        loop: tuple[int, int] | None,
    ) -> None:
        self.steps, self.index, self.width, self.pins, self.loop = steps, index, width, pins, loop
        self.hardest = max((step.effort for step in steps), default=0.0)
        self.cursor = 0
        self.across = next((count for count in (8, 4, 2) if width // count >= needed), 1)

    def line(self, bars: Sequence[BarPlace]) -> Rows:
        """Return some bars as two rows."""
        rows = blank(self.width, 2)
        wide = self.width // self.across
        for place, bar in enumerate(bars):
            overlay(rows, self._bar(bar, wide), place * wide, 0)
        if len(bars) * wide < self.width:
            put(rows, len(bars) * wide, 0, "│", "dim")
        return rows

    def _bar(self, bar: BarPlace, wide: int) -> Rows:
        rows = blank(wide, 2)
        inside = self.loop is not None and any(self.loop[0] <= step <= self.loop[1] for step in bar.steps)
        edge: Cell = ("┃", "loop") if inside else ("│", "dim")
        overlay(rows, [[edge], [edge if inside else (" ", "back")]], 0, 0)
        room = max(1, (wide - 1) // max(1, len(bar.steps)))
        for place, step in enumerate(bar.steps):
            x = 1 + place * room
            overlay(rows, self._chord(step, min(room, wide - x)), x, 0)
        return rows

    def _chord(self, at: int, room: int) -> Rows:
        planned = self.steps[at]
        here = at == self.index
        name = written(planned.step.symbol) + _MARKS.get(planned.step.mark, "")
        upper: Row = [*text_row(name, max(0, room - 1), "here" if here else "text"), (" ", "back")]
        mark = ("◆" if at in self.pins else "") + ("!" if planned.warnings else "")
        hard = self.hardest > 0 and planned.effort >= 0.8 * self.hardest
        level = f"{effort_bar(planned.effort, self.hardest)}{planned.effort:.1f}{mark}"
        role = "pin" if at in self.pins else "hard" if hard else "effort"
        return [upper[:room], text_row(level, room, role, ground="back")]
