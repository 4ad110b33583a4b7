"""The cue sheet: all a player who has never seen the song needs, on one page."""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.formats.sheets.drawing import draw_line
from engine.formats.sheets.grid import SIZES, Line, Size, few_wrap, fits, gaps, lines
from engine.formats.sheets.keyboards import HEIGHT, draw_keyboard, stretch
from engine.formats.sheets.paper import POINT, SMALLEST, Box, Ink, Paper
from engine.formats.sheets.roadmap import Leg, bar_words, beginning, ending, legs, played_sections
from engine.formats.sheets.signs import printed, printed_key, tempo_sign
from engine.planning.model import Plan
from engine.practice.ranking import HardShift, rank
from engine.practice.report import time_words
from engine.song.groove import left_hand_words
from engine.song.length import length_words
from engine.song.model import Song, Step
from engine.song.tune import sung_range
from engine.song.unfolding import unfold
from engine.song.writing import pitch

SHIFTS = 3
"""Hardest shifts on a sheet."""

BETWEEN = 2.4
"""Millimetres between two lines of bars; between sections the same again."""

SHIFT_HEIGHT = HEIGHT + 5.0
"""Millimetres a shift takes."""

LEGEND = 7.0
"""Millimetres above the shifts, for the line that says what the signs are."""

WIDEST = Size(4, SMALLEST)
"""The size for bars so full that their chords are narrow in any."""

FOOT = 6.0
"""Millimetres at the bottom for the place in the set and the next song."""

WORDS = Ink(11)
SMALL = Ink(10, grey=70)
CONTINUED = Ink(13, bold=True)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A song to print: with its plan the hardest shifts stand below the chart. `horn` names the instrument's key when
    the chords are in its written pitch; `place` is where in the set it comes, `after` what comes next."""

    song: Song
    plan: Plan | None = None
    horn: str = ""
    place: str = ""
    after: str = ""


def draw_cue_sheet(paper: Paper, sheet: Sheet) -> None:
    """Draw a song on new pages: one, unless the song is so long that its chords would become too small to read."""
    paper.turn()
    paper.bookmark(sheet.song.title, 0)
    steps = unfold(sheet.song)
    y = _head(paper, sheet, steps)
    hard = _hardest(sheet)
    low = paper.bottom - FOOT - shifts_height(len(hard))
    size, found, spread = best(paper, sheet.song, low - y)
    y = _chart(paper, sheet, y, (low, size, spread), found)
    if hard and y > low + 0.01:
        _foot(paper, sheet)
        paper.turn()
    if hard:
        _shifts(paper, hard)
    _foot(paper, sheet)


def _head(paper: Paper, sheet: Sheet, steps: tuple[Step, ...]) -> float:
    """Draw title, key, tempo and roadmap, and return where the chart may begin."""
    song = sheet.song
    _key_box(paper, sheet)
    paper.text(paper.left, paper.left + 8, song.title, Ink(26, bold=True), room=paper.inner - 44)
    y = paper.left + 16
    paper.text(paper.left, y, "     ".join(_facts(song, steps)), Ink(13, bold=True), room=paper.inner - 44)
    y += 7
    for label, words in _remarks(sheet):
        paper.text(paper.left, y, label, SMALL)
        paper.text(paper.left + 17, y, printed(words), WORDS, room=paper.inner - 17)
        y += 5.4
    return _roadmap(paper, legs(steps), y - 1.5) + 4


def _key_box(paper: Paper, sheet: Sheet) -> None:
    width, height = 38.0, 15.0
    x, y = paper.right - width, paper.left - 1
    paper.box(x, y, width, height, Box(thick=0.6, round=2))
    key = Ink(26, bold=True)
    paper.text(x + width / 2, y + (height + key.cap) / 2, printed_key(sheet.song.key), key, width - 4, "centre")
    under = f"written for {printed(sheet.horn)}" if sheet.horn else ""
    paper.text(x + width / 2, y + height + 4.6, under, Ink(10, bold=True), width, "centre")


def _facts(song: Song, steps: tuple[Step, ...]) -> list[str]:
    facts = [str(song.meter), f"{tempo_sign(song.meter.compound)} = {song.tempo:g}", song.feel]
    facts.append("no count" if song.count == "none" else f"count {song.count}")
    return [*facts, length_words(song, steps)]


def _remarks(sheet: Sheet) -> Iterator[tuple[str, str]]:
    song = sheet.song
    yield "starts", beginning(song)
    yield "ends", ending(song)
    sung = sung_range(song)
    if sung and not sheet.horn:
        low, high = (pitch(key, song.key) for key in sung)
        yield "sung", f"{low} to {high}"
    yield from (("played", words) for words in left_hand_words(song))
    if song.note:
        yield "note", song.note_line


def _roadmap(paper: Paper, found: tuple[Leg, ...], y: float) -> float:
    """Draw the roadmap as a row of boxes, in as many rows as it needs, and return where the last one ends."""
    name, count, height = Ink(11, bold=True), Ink(10, grey=70), 6.4
    x = paper.left
    for leg in found:
        bars = f"{leg.times} × {leg.bars}" if leg.times > 1 else f"{leg.bars}"
        width = min(paper.measure(leg.name, name) + paper.measure(bars, count) + 6, paper.inner)
        if x + width > paper.right + 0.01:
            x, y = paper.left, y + height + 1.6
        paper.box(x, y, width, height, Box(fill=238, grey=160, round=1))
        wide = paper.text(
            x + 2, y + height / 2 + name.cap / 2, leg.name, name, room=width - paper.measure(bars, count) - 5.5
        )
        paper.text(x + wide + 4, y + height / 2 + count.cap / 2, bars, count)
        x += width + 1.6
    return y + height


def best(paper: Paper, song: Song, room: float) -> tuple[Size, tuple[Line, ...], float]:
    """Return the largest size in which the whole chart stands in `room` millimetres of height and few of its rows wrap,
    its lines, and the space between them. Where none does, the largest whatever wraps, then the lowest chart whose
    chords can be read."""
    sections = played_sections(song)
    readable: list[tuple[Size, tuple[Line, ...]]] = []
    for size in SIZES:
        found = lines(sections, song.meter, size, paper.inner, paper.measure)
        if not fits(found, size, paper.measure):
            continue
        if few_wrap(found) and _height(found, BETWEEN) <= room:
            return size, found, _spread(found, room)
        readable.append((size, found))
    if not readable:
        return WIDEST, lines(sections, song.meter, WIDEST, paper.inner, paper.measure), BETWEEN
    standing = (one for one in readable if _height(one[1], BETWEEN) <= room)
    size, found = next(standing, min(readable, key=lambda one: _height(one[1], BETWEEN)))
    return size, found, _spread(found, room)


def _spread(found: tuple[Line, ...], room: float) -> float:
    """Return the space between lines that leaves little of the room empty."""
    spare = (room - _height(found, BETWEEN)) / max(1, len(found) + gaps(found))
    return BETWEEN + min(max(spare, 0.0), 2.6)


def _height(found: tuple[Line, ...], between: float) -> float:
    return sum(line.height for line in found) + between * (len(found) + gaps(found))


def _chart(paper: Paper, sheet: Sheet, y: float, frame: tuple[float, Size, float], found: tuple[Line, ...]) -> float:
    """Draw the chart from `y` on, on further pages where it must be, and return where it ends."""
    low, size, spread = frame
    whole = _height(found, spread) + y <= low + 0.01
    first = paper.pages
    for number, line in enumerate(found):
        if line.section is not None and number:
            y += spread
        if not whole and y + line.height > paper.bottom - FOOT:
            _foot(paper, sheet)
            paper.turn()
            paper.text(paper.left, paper.left + 4, f"{sheet.song.title}, continued", CONTINUED, room=paper.inner - 44)
            page = f"{printed_key(sheet.song.key)}, page {paper.pages - first + 1}"
            paper.text(paper.right, paper.left + 4, page, CONTINUED, room=40, align="right")
            y = paper.left + 9
        if line.section is not None:
            paper.bookmark(line.section.name, y, inside=True)
        draw_line(paper, line, y, size, sheet.song)
        y += line.height + spread
    return y


def shifts_height(count: int) -> float:
    """Return the millimetres that so many hard shifts take at the bottom of a page."""
    return count * SHIFT_HEIGHT + LEGEND + 3 if count else 0.0


def _hardest(sheet: Sheet) -> tuple[HardShift, ...]:
    return rank([(sheet.song, sheet.plan)]).shifts[:SHIFTS] if sheet.plan is not None else ()


def _shifts(paper: Paper, hard: tuple[HardShift, ...]) -> None:
    y = paper.bottom - FOOT - len(hard) * SHIFT_HEIGHT - 1
    paper.line(paper.left, y - LEGEND - 1, paper.right, y - LEGEND - 1, grey=160)
    paper.text(paper.left, y - LEGEND + 3.5, "hardest shifts", SMALL)
    signs = "square: left hand    circle: right hand    grey: the finger stays on its key"
    paper.text(paper.right, y - LEGEND + 3.5, signs, SMALL, align="right")
    text = 46.0
    room = (paper.inner - text - 10) / 2
    for one in hard:
        before, after = one.steps
        _shift_words(paper, one, y, text)
        keys = stretch(before, after)
        x = paper.left + text
        width = draw_keyboard(paper, before, keys, x, y, room)
        paper.text(x + width + 5, y + HEIGHT / 2 + 1.5, "→", Ink(14, bold=True), align="centre")
        draw_keyboard(paper, after, keys, x + width + 10, y, room)
        y += SHIFT_HEIGHT


def _shift_words(paper: Paper, one: HardShift, y: float, room: float) -> None:
    place = one.tightest
    chords = " → ".join(printed(symbol) for symbol in place.symbols)
    paper.text(paper.left, y + 3.4, chords, Ink(12, bold=True), room=room - 3)
    paper.text(paper.left, y + 8, bar_words(place.section, place.bar), SMALL, room=room - 3)
    paper.text(paper.left, y + 12, time_words(one), SMALL, room=room - 3)


def _foot(paper: Paper, sheet: Sheet) -> None:
    y = paper.bottom + SMALL.size * POINT * 0.3
    paper.text(paper.left, y, sheet.place, SMALL, room=paper.inner * 0.48)
    paper.text(paper.right, y, sheet.after, SMALL, room=paper.inner * 0.48, align="right")
