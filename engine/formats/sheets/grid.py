"""The chart in bars, laid out: which bars share a line, where each chord stands, how high it all becomes.

Millimetres throughout. Nothing is drawn here, so that a page can try sizes until the whole song fits on it.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from engine.formats.sheets.paper import POINT, Ink
from engine.formats.sheets.roadmap import told_meters
from engine.formats.sheets.rows import rows, shares
from engine.formats.sheets.signs import printed
from engine.song.model import Bar, Section
from engine.theory.meter import Meter

Measure = Callable[[str, Ink], float]

SLASH = "/"

LABEL = 27.0
"""Width of the column with the sections' names."""

GAP = 1.6
"""Least space between two chords."""

PAD = 2.2
"""Space between a bar line and what stands beside it; a repeat sign takes as much again."""

CUE = 12.0
"""Points of cues and of marks under chords (own choice)."""

NARROWEST = 0.8
"""How narrow a chord may be set, as part of its width, before its row of bars wraps (own choice)."""

FEW_WRAPPED = 0.25
"""Part of a chart's rows that may wrap before smaller type serves it better (own choice); one row always may."""


@dataclass(frozen=True, slots=True)
class Size:
    """How large a chart is set: bars on a line, and the points of its chords."""

    bars: int
    points: float

    @property
    def chord(self) -> Ink:
        return Ink(self.points, bold=True)

    @property
    def word(self) -> Ink:
        return Ink(CUE, grey=70)


SIZES = tuple(
    Size(bars, points)
    for bars, points in (
        (4, 20), (4, 18), (4, 16), (4, 15), (4, 14), (4, 13), (4, 12), (8, 13), (8, 12), (8, 11), (6, 11), (4, 10),
        (8, 10), (6, 10), (12, 10),
    )
)  # fmt: skip
"""What is tried, the largest first (own choice)."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A chord or a beat's slash: where it starts from the left of its bar, and the width it may take."""

    text: str
    x: float
    width: float
    mark: str = ""
    slash: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """A bar in its place: `x` from the left of the chart. `same` means it repeats the bar before it on the line."""

    bar: Bar
    x: float
    width: float
    placed: tuple[Placed, ...]
    same: bool = False
    opens: bool = False
    meter: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """A line of bars. `section` on a section's first line; `above` is room for endings, cue and keys, `below` for marks
    under the chords. `part` counts from 0 the lines of a row that wraps because its chords stand too close."""

    cells: tuple[Cell, ...]
    section: Section | None
    above: float
    chord: float
    below: float
    last: bool
    part: int = 0

    @property
    def height(self) -> float:
        return self.above + self.chord + self.below


def lines(sections: Sequence[Section], meter: Meter, size: Size, width: float, measure: Measure) -> tuple[Line, ...]:
    """Return the lines of a chart `width` millimetres wide, the column of names included; `meter` is the song's."""
    return tuple(
        line
        for section, told in zip(sections, told_meters(sections, meter), strict=True)
        for line in _section_lines(section, told, size, width - LABEL, measure)
    )


def fits(found: Sequence[Line], size: Size, measure: Measure) -> bool:
    """True when no chord has to be set narrower than can be read."""
    placed = (one for line in found for cell in line.cells for one in cell.placed if not one.slash)
    return all(measure(one.text, size.chord) * NARROWEST <= one.width + 0.01 for one in placed)


def few_wrap(found: Sequence[Line]) -> bool:
    """True when so few rows wrap that the chart still shows its form."""
    whole, wrapped = (sum(1 for line in found if line.part == part) for part in (0, 1))
    return wrapped <= max(1, whole * FEW_WRAPPED)


def _section_lines(section: Section, told: Sequence[str], size: Size, width: float, measure: Measure) -> Iterator[Line]:
    bars = section.bars
    found = tuple(rows([_need(bar, size, measure) for bar in bars], size.bars, width))
    word = size.word.size * POINT
    for line, widths in zip(found, shares(found, size.bars, width), strict=True):
        start = line.start
        row = bars[start : start + len(line.needs)]
        placed = tuple(_placed(bar, wide, size, measure) for bar, wide in zip(row, widths, strict=True))
        words = not start and bool(section.cue or section.key or section.until or section.pickup or section.pace != 1)
        signs = any(bar.ending or bar.repeat_times > 2 for bar in row)
        yield Line(
            cells=_cells(row, told[start:], bars[start - 1] if start else None, widths, placed),
            section=None if start else section,
            above=word * (1.25 * signs + 1.3 * words),
            chord=size.points * POINT * 1.55,
            below=word * 1.05 if any(event.mark for bar in row for event in bar.events) else 0.0,
            last=start + len(row) >= len(bars),
            part=line.part,
        )


def _cells(
    row: Sequence[Bar],
    meters: Sequence[str],
    before: Bar | None,
    widths: Sequence[float],
    placed: Sequence[tuple[Placed, ...]],
) -> tuple[Cell, ...]:
    cells: list[Cell] = []
    x = 0.0
    for number, (bar, wide) in enumerate(zip(row, widths, strict=True)):
        left = row[number - 1] if number else None
        same = left is not None and _like(bar, left)
        opens = bool(bar.ending) and _opens(bar, left or before)
        cells.append(Cell(bar, x, wide, placed[number], same, opens, meters[number]))
        x += wide
    return tuple(cells)


def _opens(bar: Bar, before: Bar | None) -> bool:
    return before is None or before.ending != bar.ending or bool(before.repeat_times)


def _like(bar: Bar, before: Bar) -> bool:
    """True when the sign for "the bar before again" says it all."""
    told = bar.repeat_start or bar.ending != before.ending or bar.meter != before.meter
    sounds = [[(event.symbol, event.beat, event.beats) for event in one.events] for one in (bar, before)]
    return not told and sounds[0] == sounds[1] and not any(event.mark for event in (*bar.events, *before.events))


def _need(bar: Bar, size: Size, measure: Measure) -> float:
    words = [measure(text, size.chord) * NARROWEST for text, _, _ in _words(bar)]
    # A tenth more, so that chords are not all set as narrow as can be.
    return 1.1 * sum(words) + GAP * len(words) + _margins(bar)


def _words(bar: Bar) -> list[tuple[str, Fraction, str]]:
    """Return what is written in a bar with its beat and mark: chords, and a slash on each beat that follows a chord in
    a bar whose chords do not share it evenly."""
    chords = [(printed(event.symbol), event.beat, event.mark) for event in bar.events]
    if len({event.beats for event in bar.events}) <= 1 or any(event.beat.denominator > 1 for event in bar.events):
        return chords
    taken = {event.beat for event in bar.events}
    first = bar.events[0].beat
    free = [Fraction(beat) for beat in range(1, bar.meter.beats + 1) if beat not in taken and beat > first]
    return sorted([*chords, *((SLASH, beat, "") for beat in free)], key=lambda word: word[1])


def _margins(bar: Bar) -> float:
    return PAD * (2 + bar.repeat_start + bool(bar.repeat_times) + bool(bar.ending) * 0.5)


def _placed(bar: Bar, width: float, size: Size, measure: Measure) -> tuple[Placed, ...]:
    start = PAD * (1 + bar.repeat_start)
    room = width - _margins(bar)
    words = _words(bar)
    wanted = [start + room * float((beat - 1) / bar.meter.beats) for _, beat, _ in words]
    widths = [measure(text, size.chord) for text, _, _ in words]
    places, narrow = _settled(wanted, widths, (start, start + room))
    return tuple(
        Placed(text, x, wide * narrow, mark, slash=text == SLASH)
        for (text, _, mark), x, wide in zip(words, places, widths, strict=True)
    )


def _settled(wanted: list[float], widths: list[float], edges: tuple[float, float]) -> tuple[list[float], float]:
    """Move words apart that would touch; give back their places and how narrow they must be set to stand between the
    edges."""
    if not wanted:
        return [], 1.0
    start, end = edges
    gap = min(GAP, 0.3 * (end - start) / len(wanted))
    narrow = min(1.0, (end - start - gap * (len(wanted) - 1)) / max(sum(widths), 0.001))
    shown = [wide * narrow for wide in widths]
    places = list(wanted)
    for number in range(1, len(places)):
        places[number] = max(places[number], places[number - 1] + shown[number - 1] + gap)
    limit = end
    for number in reversed(range(len(places))):
        places[number] = min(places[number], limit - shown[number])
        limit = places[number] - gap
    return places, narrow


def gaps(found: Sequence[Line]) -> int:
    """Return how many times one section follows another."""
    return sum(1 for before, after in pairwise(found) if before.last and after.section is not None)
