"""Bars, repeat signs, endings and chords on paper."""

from engine.formats.sheets.grid import LABEL, PAD, Cell, Line, Size
from engine.formats.sheets.paper import POINT, Box, Ink, Paper
from engine.formats.sheets.roadmap import pickup_words
from engine.formats.sheets.signs import printed_key, tempo_sign
from engine.song.groove import left_hand_words
from engine.song.model import Section, Song
from engine.song.section_tempo import tempo_of

NAME = Ink(12, bold=True)


def draw_line(paper: Paper, line: Line, y: float, size: Size, song: Song) -> None:
    """Draw a line of the chart whose upper edge is `y`."""
    left = paper.left + LABEL
    top = y + line.above
    base = top + (line.chord + size.chord.cap) / 2
    if line.section is not None:
        paper.text(paper.left, base, line.section.name, NAME, room=LABEL - 3)
        words = "  ·  ".join(_words(line.section, song))
        paper.text(paper.left + LABEL, y + size.word.cap + 0.4, words, size.word, room=paper.inner - LABEL)
    for number, cell in enumerate(line.cells):
        _bar_lines(paper, cell, left, (top, top + line.chord), last=line.last and number == len(line.cells) - 1)
        if cell.opens:
            _ending(paper, cell, left, top)
        _chords(paper, cell, left, base, size)


def _words(section: Section, song: Song) -> list[str]:
    """Return what is told of a section above its bars."""
    words = [section.cue] if section.cue else []
    words += [f"{tempo_sign(song.meter.compound)} = {tempo_of(song, section):g}"] if section.pace != 1 else []
    words += [f"in {printed_key(section.key)}"] if section.key else []
    words += [f"till {section.until}"] if section.until else []
    words += left_hand_words(section)
    return words + ([pickup_words(section)] if section.pickup else [])


def _bar_lines(paper: Paper, cell: Cell, left: float, edges: tuple[float, float], last: bool) -> None:
    top, low = edges
    start, end = left + cell.x, left + cell.x + cell.width
    if cell.bar.repeat_start:
        _repeat(paper, start, edges, toward=1)
    else:
        paper.line(start, top, start, low)
    if cell.bar.repeat_times:
        _repeat(paper, end, edges, toward=-1)
        if cell.bar.repeat_times > 2 and not cell.bar.ending:
            paper.text(end, top - 1, f"{cell.bar.repeat_times}× in all", Ink(10, bold=True), align="right")
    elif last:
        paper.line(end - 1.1, top, end - 1.1, low)
        paper.line(end, top, end, low)
    else:
        paper.line(end, top, end, low)


def _repeat(paper: Paper, x: float, edges: tuple[float, float], toward: int) -> None:
    top, low = edges
    paper.line(x + 0.4 * toward, top, x + 0.4 * toward, low, thick=0.9)
    paper.line(x + 1.4 * toward, top, x + 1.4 * toward, low)
    middle, apart = (top + low) / 2, (low - top) * 0.16
    for y in (middle - apart, middle + apart):
        paper.dot(x + 2.4 * toward, y, 0.4, Box(fill=0, thick=0.05))


def _ending(paper: Paper, cell: Cell, left: float, top: float) -> None:
    ink = Ink(10, bold=True)
    y = top - ink.size * POINT * 1.0
    start = left + cell.x + 0.4
    paper.line(start, y, start + cell.width - 2, y)
    paper.line(start, y, start, top - 0.4)
    paper.text(start + 1, y + ink.cap + 0.6, ",".join(map(str, cell.bar.ending)) + ".", ink)


def _chords(paper: Paper, cell: Cell, left: float, base: float, size: Size) -> None:
    start = left + cell.x
    if cell.meter:
        paper.text(start + PAD, base - size.chord.cap - 1, cell.meter, Ink(10, bold=True))
    if cell.same:
        _again(paper, start + cell.width / 2, base - size.chord.cap / 2, size)
        return
    for placed in cell.placed:
        if placed.slash:
            paper.text(start + placed.x, base, "/", Ink(size.points, grey=140))
            continue
        paper.whole_text(start + placed.x, base, placed.text, size.chord, room=placed.width + 0.01)
        if placed.mark:
            paper.text(start + placed.x, base + size.word.size * POINT * 1.12, placed.mark, size.word)


def _again(paper: Paper, x: float, y: float, size: Size) -> None:
    """Draw the sign for the bar before again: a stroke between two dots."""
    half = size.chord.cap * 0.45
    paper.line(x - half, y + half, x + half, y - half, thick=0.5, grey=90)
    for aside in (-1, 1):
        paper.dot(x + aside * half * 0.9, y + aside * half * 0.45, 0.4, Box(fill=90, grey=90, thick=0.05))
