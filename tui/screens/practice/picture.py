"""The shed as a picture: the ranked shifts, and of the chosen one keyboards, fingers, time, ladder and progress."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from engine.planning.model import PlannedStep
from engine.planning.move_words import moves_in_words
from engine.practice.lateness import Late
from engine.practice.log import Memory
from engine.practice.practice_plan import Evening, Turn
from engine.practice.ranking import HardShift, Ranking
from engine.practice.report import time_words
from engine.practice.same_shapes import shape_words
from engine.practice.strain import CAUTION
from engine.practice.tempo_ladder import done, rungs
from tui.widgets.cells import Row, Rows, blank, choice_row, overlay, put, text_row
from tui.widgets.lettering import pretty_words, written
from tui.widgets.small_keyboard import small_keyboard_rows

PLOT = 3
"""Rows of the progress plot."""
DETAIL = 8
"""Rows of the chosen shift without its plot."""
_LEVELS = " ▁▂▃▅▇█"


@dataclass(frozen=True, slots=True, eq=False)
class ShedView:
    """All that the shed shows. `planned` is (songs planned, songs); `span` the lowest and highest key of the set,
    `tempo` where the chosen shift stands on its ladder, `left` the seconds left of the present turn, `late` how late
    the chosen shift was when it was last heard."""

    ranking: Ranking
    cursor: int = 0
    memories: Mapping[str, Memory] = field(default_factory=dict)
    tempo: float = 0.0
    span: tuple[int, int] = (36, 84)
    planned: tuple[int, int] = (0, 0)
    evening: Evening | None = None
    turn: int = 0
    left: float = 0.0
    minutes: int = 30
    advice: tuple[str, ...] = ()
    narrow: tuple[PlannedStep, PlannedStep] | None = None
    caution: bool = False
    heard: str = ""
    late: Late | None = None

    @property
    def chosen(self) -> HardShift | None:
        shifts = self.ranking.shifts
        return shifts[self.cursor] if shifts else None


def shed_rows(view: ShedView, width: int, height: int) -> Rows:
    """Return exactly `height` rows of `width` cells."""
    rows = blank(width, height)
    if view.caution:
        overlay(rows, caution_rows(width), 0, 0)
        return rows
    hard = view.chosen
    if hard is None:
        overlay(rows, [text_row("", width, "text"), text_row(f"   {_empty_words(view)}", width, "text")], 0, 0)
        return rows
    plot = PLOT if height >= 20 else 0
    detail = DETAIL + plot if height >= 14 else 2
    top = [_tonight(view, width), *_list(view, width, max(1, height - detail - 1))]
    overlay(rows, top, 0, 0)
    below = _detail(view, hard, width, plot) if height >= 14 else [_time(view, hard, width), _ladder(view, hard, width)]
    overlay(rows, below, 0, height - detail)
    return rows


def caution_rows(width: int) -> Rows:
    """Return the caution, wrapped."""
    from textwrap import wrap

    lines = ["", "Before the first time in the shed", ""]
    for words in CAUTION:
        lines += [*wrap(words, max(20, width - 6)), ""]
    lines.append("Enter = read, to the shed")
    return [text_row(f"   {line}", width, "title" if number in (1, len(lines) - 1) else "text")
            for number, line in enumerate(lines)]  # fmt: skip


def _empty_words(view: ShedView) -> str:
    done, songs = view.planned
    if not songs:
        return "the set has no songs yet"
    return f"planning the set: {done} of {songs} songs ..." if done < songs else "no finger has to move in this set"


# Tonight


def _tonight(view: ShedView, width: int) -> Row:
    evening = view.evening
    if evening is None:
        planned, songs = view.planned
        more = f"   {planned} of {songs} songs planned so far" if planned < songs else ""
        return text_row(f" t = tonight's plan of {view.minutes} minutes, 1 to 9 = ten to ninety{more}", width, "cue")
    if view.turn >= len(evening.turns):
        return text_row(" tonight's plan is through; t = another one", width, "cue")
    turn = evening.turns[view.turn]
    number = f"{view.turn + 1} of {len(evening.turns)}"
    left = f"{int(view.left) // 60}:{int(view.left) % 60:02} left" if view.left > 0 else "time: n = next"
    words = f" turn {number}  {turn_words(view.ranking, turn)}  {left}   then "
    return text_row(words + _coming(view, evening), width, "cue")


def _coming(view: ShedView, evening: Evening) -> str:
    coming = [turn_words(view.ranking, turn) for turn in evening.turns[view.turn + 1 : view.turn + 4]]
    return ", ".join(coming) or "that was it"


def turn_words(ranking: Ranking, turn: Turn) -> str:
    """Name a turn: `2 Dm7 › G7`, `pause`."""
    if turn.spot is None:
        return "pause"
    sign = turn.spot.hard.shift.sign
    number = next((n for n, hard in enumerate(ranking.shifts, 1) if hard.shift.sign == sign), 0)
    return f"{number or ''} {_names(turn.spot.hard)}".strip()


# The list


def _list(view: ShedView, width: int, height: int) -> Rows:
    shifts = view.ranking.shifts
    head = text_row(f"   #  {'shift':<20}{'load':>5}   {'needs / has':<14}{'clean / song':<13}", width, "dim")
    room = max(0, height - 1)
    first = max(0, min(view.cursor - room // 2, len(shifts) - room))
    return [head, *(_shift(view, number, width) for number in range(first, min(first + room, len(shifts))))]


def _shift(view: ShedView, number: int, width: int) -> Row:
    hard = view.ranking.shifts[number]
    memory = view.memories.get(hard.shift.sign)
    here = number == view.cursor
    times = f"{hard.needs:.2f} / {hard.tightest.available:.2f} s"
    best = f"{memory.best:g}" if memory and memory.best else "-"
    row = choice_row(
        f" {number + 1:>2}{_mark(hard, memory)} {_names(hard):<20.20}{hard.load:>5.0%} "
        f"{'!' if hard.load > 1 else ' '} {times:<14}{f'{best} / {hard.tightest.tempo:g}':<13}",
        width,
        here,
    )
    start, rows = 60, [row]
    if width - start - 1 >= 16:
        overlay(rows, small_keyboard_rows(hard.steps[1], *view.span, width - start - 1), start, 0)
    return rows[0]


def _mark(hard: HardShift, memory: Memory | None) -> str:
    """Return a full ring for what came clean three times at its tempo, an empty one for what was begun."""
    return " " if memory is None else "●" if done(memory, hard.tightest.tempo) else "○"


def _names(hard: HardShift) -> str:
    return " › ".join(written(symbol) for symbol in hard.tightest.symbols)


# The chosen shift


def _detail(view: ShedView, hard: HardShift, width: int, plot: int) -> Rows:
    before, after = view.narrow or hard.steps
    held = shape_words(before, after)
    rows: Rows = [_place(hard, width)]
    rows += [_keyboard(view, step, width) for step in (before, after)]
    rows += [_hand("LH", moves_in_words(after, "left"), width), _hand("RH", moves_in_words(after, "right"), width)]
    rows += [_time(view, hard, width), _ladder(view, hard, width)]
    if plot:
        memory = view.memories.get(hard.shift.sign)
        rows += progress_rows(memory.evenings if memory else (), hard.tightest.tempo, width, plot)
    rows.append(_last(view, held, width))
    return rows


def _place(hard: HardShift, width: int) -> Row:
    place = hard.tightest
    seam = ", back to the top" if place.seam else ""
    often = f", met {len(hard.met)} times" if len(hard.met) > 1 else ""
    songs = f" in {len(hard.songs)} songs" if len(hard.songs) > 1 else ""
    words = f" {_names(hard)}   {place.title}, {place.section} bar {place.bar}{seam}{often}{songs}"
    return text_row(words, width, "title")


def _keyboard(view: ShedView, step: PlannedStep, width: int) -> Row:
    rows = [text_row(f" {written(step.step.symbol):<11.11}", width, "chord")]
    overlay(rows, small_keyboard_rows(step, *view.span, max(0, width - 14)), 13, 0)
    return rows[0]


def _hand(name: str, words: str, width: int) -> Row:
    return text_row(f" {name} {pretty_words(words)}", width, "text")


def _time(view: ShedView, hard: HardShift, width: int) -> Row:
    """Return time needed against time there is, at the song's tempo and at the ladder's."""
    room = max(6, min(24, width - 64))
    full = min(room, round(room * min(hard.load, 1.0)))
    goal = hard.tightest.tempo
    here = f", {hard.tightest.available * goal / view.tempo:.2f} s at {view.tempo:g}" if view.tempo else ""
    words = f" needs {'█' * full}{'░' * (room - full)} {time_words(hard)} at {goal:g}{here}"
    return text_row(words, width, "hard" if hard.load > 1 else "effort")


def _ladder(view: ShedView, hard: HardShift, width: int) -> Row:
    steps = [f"{tempo:g}" for tempo in rungs(view.tempo, hard.tightest.tempo)] if view.tempo else []
    if not steps:
        return text_row("", width, "text")
    steps[0] = f"[{steps[0]}]"
    room, shown = width - len(" ladder ") - len(steps[-1]) - 4, steps[:1]
    while len(shown) < len(steps) and len("  ".join([*shown, steps[len(shown)]])) <= room:
        shown.append(steps[len(shown)])
    more = "" if len(shown) == len(steps) else f" … {steps[-1]}"
    return text_row(f" ladder {'  '.join(shown)}{more}", width, "loop")


def _last(view: ShedView, held: str, width: int) -> Row:
    if view.heard:
        return text_row(f" {view.heard}", width, "cue")
    if view.narrow:
        return text_row(" narrower version shown: k = keep it for tonight, v = back to the plan's", width, "cue")
    if view.advice:
        return text_row(f" care: {view.advice[0]}", width, "warn")
    if view.late is not None:
        return text_row(f" {late_words(view.late)}", width, "dim")
    return text_row(f" {held}" if held else " stop before it hurts; right = clean, left = stopped", width, "dim")


def late_words(late: Late) -> str:
    """Return how late a shift was when it was last heard."""
    how = "in time" if late.seconds <= 0 else f"{late.seconds:.2f} s late"
    return f"last heard at {late.tempo:g}: {how}"


# Progress


def progress_rows(evenings: Sequence[tuple[date, float, int]], goal: float, width: int, height: int) -> Rows:
    """Return the best clean tempo of each evening as columns up to the song's tempo; an evening without a clean try
    is an empty ring."""
    rows = blank(width, height)
    label = 9
    room = max(1, (width - label - 2) // 2)
    shown = list(evenings)[-room:]
    put(rows, 1, 0, f"{goal:>6g} ┃", "dim")
    for y in range(1, height):
        put(rows, 1, y, "       ┃", "dim")
    if not shown:
        put(rows, label + 1, height - 1, "no evening yet: the best clean tempo of each will stand here", "dim")
        return rows
    for x, (_, best, _) in enumerate(shown):
        levels = round(min(best / goal, 1.0) * height * (len(_LEVELS) - 1)) if goal else 0
        for y in range(height):
            level = max(0, min(len(_LEVELS) - 1, levels - (height - 1 - y) * (len(_LEVELS) - 1)))
            put(rows, label + 1 + 2 * x, y, _LEVELS[level], "effort")
        if best <= 0:
            put(rows, label + 1 + 2 * x, height - 1, "○", "dim")
    first, last = shown[0][0], shown[-1][0]
    days = f"{first}" if first == last else f"{first} to {last}"
    words = f"best {max(best for _, best, _ in shown):g}, {days}"
    put(rows, label + 3 + 2 * len(shown), height - 1, words, "dim")
    return rows
