"""The shed on paper: tonight's turns, the hardest shifts as small keyboards, their ladder to tick off, and progress."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from itertools import pairwise

from engine.formats.sheets.keyboards import HEIGHT, draw_keyboard, stretch
from engine.formats.sheets.paper import Box, Ink, Paper
from engine.formats.sheets.signs import printed
from engine.practice.log import Memory
from engine.practice.practice_plan import Evening, Turn
from engine.practice.ranking import TOP, HardShift, Ranking
from engine.practice.report import practised_words, time_words
from engine.practice.strain import CAUTION
from engine.practice.tempo_ladder import rungs

ROW = HEIGHT + 14.0
"""Millimetres a shift takes."""
WORDS_WIDTH, PLOT_WIDTH = 44.0, 34.0
"""Millimetres of the words left of the keyboards, and of the progress right of them."""
TITLE, NAME, PLAIN, SMALL = Ink(18, bold=True), Ink(12, bold=True), Ink(11), Ink(10, grey=70)

Evenings = Sequence[tuple[date, float, int]]


@dataclass(frozen=True, slots=True)
class Practice:
    """What is to be printed. `start` gives the tempo at which each shift's ladder begins, by its sign."""

    title: str
    ranking: Ranking
    memories: Mapping[str, Memory] = field(default_factory=dict)
    start: Mapping[str, float] = field(default_factory=dict)
    evening: Evening | None = None
    top: int = TOP


def practice_pdf(practice: Practice, paper: str = "a4") -> bytes:
    """Return the hardest shifts, with tonight's plan where there is one, as a PDF file."""
    document = Paper(paper, f"{practice.title}: practice")
    document.turn()
    document.text(document.left, document.left + 5, f"{practice.title}: the hardest shifts", TITLE, document.inner)
    y = _tonight(document, practice, document.left + 13)
    for number, hard in enumerate(practice.ranking.shifts[: practice.top], 1):
        if y + ROW > document.bottom - 12:
            _foot(document)
            document.turn()
            y = document.left
        _shift(document, practice, (number, hard), y)
        y += ROW
    _foot(document)
    return document.data()


def _tonight(paper: Paper, practice: Practice, y: float) -> float:
    """Draw the turns in two columns and return where the shifts may begin."""
    evening = practice.evening
    if evening is None or not evening.turns:
        return y
    paper.text(paper.left, y, f"Tonight, {evening.minutes:g} minutes", NAME)
    half = (len(evening.turns) + 1) // 2
    for number, turn in enumerate(evening.turns):
        column, row = divmod(number, half)
        x, base = paper.left + column * paper.inner / 2, y + 6 + 5.2 * row
        paper.box(x, base - 2.9, 3.2, 3.2, Box(grey=90))
        paper.text(x + 5.5, base, _turn_words(practice.ranking, turn), PLAIN, room=paper.inner / 2 - 9)
    return y + 6 + 5.2 * half + 4


def _turn_words(ranking: Ranking, turn: Turn) -> str:
    clock = f"{int(turn.start)}:{round(turn.start * 60) % 60:02}"
    if turn.spot is None:
        return f"{clock}  pause, let the hands rest"
    sign = turn.spot.hard.shift.sign
    rank = next((n for n, hard in enumerate(ranking.shifts, 1) if hard.shift.sign == sign), 0)
    return f"{clock}  no. {rank}  {_names(turn.spot.hard)}  from {turn.spot.tempo:g} to {turn.spot.goal:g}"


def _names(hard: HardShift) -> str:
    return " → ".join(printed(symbol) for symbol in hard.tightest.symbols)


def _shift(paper: Paper, practice: Practice, ranked: tuple[int, HardShift], y: float) -> None:
    number, hard = ranked
    place, memory = hard.tightest, practice.memories.get(hard.shift.sign)
    paper.line(paper.left, y - 2, paper.right, y - 2, grey=190)
    paper.text(paper.left, y + 3.2, f"{number}  {_names(hard)}", NAME, room=WORDS_WIDTH - 2)
    lines = (place.title, f"{place.section}, bar {place.bar}", time_words(hard))
    for row, words in enumerate(lines):
        paper.text(paper.left, y + 7.4 + 4.1 * row, words, SMALL, room=WORDS_WIDTH - 2)
    _hands(paper, hard, y)
    _progress(paper, memory.evenings if memory else (), place.tempo, y)
    begin = practice.start.get(hard.shift.sign, place.tempo)
    words = "  ".join(f"{tempo:g}" for tempo in rungs(begin, place.tempo))
    done = f"{practised_words(memory)}.   " if memory else ""
    paper.text(paper.left, y + ROW - 4.2, f"{done}ladder  {words}", SMALL, room=paper.inner)


def _hands(paper: Paper, hard: HardShift, y: float) -> None:
    before, after = hard.steps
    keys = stretch(before, after)
    x = paper.left + WORDS_WIDTH
    room = (paper.inner - WORDS_WIDTH - PLOT_WIDTH - 14) / 2
    width = draw_keyboard(paper, before, keys, x, y, room)
    paper.text(x + width + 4, y + HEIGHT / 2 + 1.5, "→", NAME, align="centre")
    draw_keyboard(paper, after, keys, x + width + 8, y, room)


def _progress(paper: Paper, evenings: Evenings, goal: float, y: float) -> None:
    """Draw the best clean tempo of each evening, up to the song's own tempo at the upper line."""
    left, right, low = paper.right - PLOT_WIDTH + 9, paper.right, y + HEIGHT
    paper.line(left, y, right, y, grey=150)
    paper.line(left, low, right, low)
    paper.text(left - 1.5, y + 2.6, f"{goal:g}", SMALL, align="right")
    shown = list(evenings)[-12:]
    apart = (right - left) / max(1, len(shown))
    heights = [HEIGHT * min(1.0, best / goal) for _, best, _ in shown]
    points = [(left + (number + 0.5) * apart, low - height) for number, height in enumerate(heights)]
    # An evening without a clean try is an empty ring at the bottom, and no line leads to it.
    for one, other in pairwise(point for point in points if point[1] < low):
        paper.line(*one, *other, thick=0.4)
    for (x, at), (_, best, _) in zip(points, shown, strict=True):
        paper.dot(x, at, 0.8, Box(fill=0 if best > 0 else 255))


def _foot(paper: Paper) -> None:
    paper.text(paper.left, paper.bottom - 3, CAUTION[0], SMALL, room=paper.inner)
    words = "square: left hand    circle: right hand    right: best clean tempo of each evening, up to the song's"
    paper.text(paper.left, paper.bottom + 1.5, words, SMALL, room=paper.inner)
