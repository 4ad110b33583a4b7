"""The stand's parts from top to bottom: what each shows of the view, and how much room it has."""

from collections.abc import Hashable
from dataclasses import dataclass

from engine.planning.model import PlannedStep
from engine.song.model import Step
from tui.screens.stand.chords import HORNS_BESIDE, Chords, chords_rows
from tui.screens.stand.heights import SMALLEST, WIDE, Heights, heights, is_split, with_words
from tui.screens.stand.view import View, two_planned
from tui.screens.stand.words import bar_words, chord_words, horn_words, with_hint, words_of_place
from tui.widgets.ahead import ahead, ahead_rows
from tui.widgets.cells import Rows, pad, row_text, text_row, text_rows
from tui.widgets.chart import chart_rows
from tui.widgets.drawn import Draw
from tui.widgets.keyboard import keyboard_rows, song_range
from tui.widgets.lines import Ends, KeyLine, ends_rows, key_line_rows, line_rows
from tui.widgets.moves import moves_rows
from tui.widgets.roadmap import roadmap_rows

LETTERED = 4
"""Rows of roadmap from which section and bar are in large letters."""

COMFORT = (80, 24)
"""Columns and rows that a small window is asked for."""

USUAL_RANGE = (41, 76)
"""F2 to E5, as MIDI numbers."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the stand: what draws it, of which state, and its columns and rows."""

    draw: Draw
    state: Hashable
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Moves:
    """The way to the coming chord, or word that it is still being planned."""

    coming: PlannedStep | None
    planning: bool
    coarse: bool


@dataclass(frozen=True, slots=True)
class Keyboard:
    """Both hands now, and where they will be, on the keys from `low` to `high`; `held` sound from the player's own."""

    now: PlannedStep | None
    coming: PlannedStep | None
    low: int
    high: int
    held: tuple[int, ...]
    coarse: bool


@dataclass(frozen=True, slots=True)
class Place:
    """Where in the song we are."""

    steps: tuple[Step, ...]
    index: int


@dataclass(frozen=True, slots=True)
class Bars:
    """The song in bars beside the stand."""

    steps: tuple[PlannedStep, ...]
    index: int
    loop: tuple[int, int] | None


def stand_parts(view: View, width: int, height: int) -> dict[str, Part]:
    """Return the parts by name, from top to bottom; together they fill exactly `width` x `height` cells.

    In the split layout `bars` stands right of those between the top bar and the line of keys.
    """
    rows = heights(width, height, view.now.layout, view.looks_ahead)
    small = width < SMALLEST[0] or height < SMALLEST[1]
    split = is_split(view.now.layout, width, height)
    left = max(SMALLEST[0], width * 3 // 5) if split else width
    middle = height - rows.bar - rows.status
    body = heights(left, middle + 2, looks_ahead=view.looks_ahead) if split else rows
    parts = {"bar": Part(ends_rows, Ends(*bar_words(view, width)), width, rows.bar)}
    parts |= _body(view, left, body, small)
    if split:
        steps = view.plan.steps if view.plan else ()
        bars = Bars(steps, min(view.now.step, len(steps) - 1), view.now.loop)
        parts["bars"] = Part(bars_beside_rows, bars, width - left, middle)
    parts["keys"] = _keys(view, width, rows.status, small)
    return {name: part for name, part in parts.items() if part.height}


def _body(view: View, width: int, rows: Heights, small: bool) -> dict[str, Part]:
    """Return what stands between the top bar and the line of keys."""
    now, coming = two_planned(view)
    low, high = song_range(view.plan) if view.plan else USUAL_RANGE
    horns = horn_words(view.horns) if width < HORNS_BESIDE else ()
    chords = Chords(*chord_words(view), view.style, view.ascii_only, small, view.lamp)
    moves = Moves(coming, view.planning and not view.now.at_end, view.coarse)
    keyboard = Keyboard(now, coming, low, high, tuple(sorted(set(view.held))), view.coarse)
    words = words_of_place(view, rows.roadmap < LETTERED, horns)
    rows = with_words(rows, len(text_rows(words, width, "cue")), view.all_words)
    place = with_hint(words_of_place(view, rows.roadmap < LETTERED, horns), view, width)
    return {
        "chords": Part(chords_rows, chords, width, rows.chords),
        "moves": Part(moves_or_word_rows, moves, width, rows.moves),
        "keyboard": Part(keyboard_part_rows, keyboard, width, rows.keyboard),
        "roadmap": Part(place_rows, Place(view.now.steps, view.now.step), width, rows.roadmap),
        "ahead": Part(ahead_rows, ahead(view.now.steps, view.now.step, view.coarse), width, rows.ahead),
        "place": Part(words_or_rest_rows, (place, view.words_key), width, rows.place),
    }


def _keys(view: View, width: int, height: int, small: bool) -> Part:
    if small and not view.trouble:
        return Part(line_rows, (f"make the window larger: {COMFORT[0]}x{COMFORT[1]}", "dim"), width, height)
    right = f"{view.status}  {view.time}" if view.time and width >= WIDE else view.status
    return Part(key_line_rows, KeyLine(view.keys, right, view.trouble), width, height)


# How each is drawn


def moves_or_word_rows(moves: Moves, width: int, height: int) -> Rows:
    """Return what each finger does on the way to the coming chord."""
    if moves.planning:
        return [text_row(" planning the hands ...", width, "dim")]
    return moves_rows(moves.coming, width, height, moves.coarse)


def keyboard_part_rows(keyboard: Keyboard, width: int, height: int) -> Rows:
    """Return the keyboard with both hands on it."""
    hands = (keyboard.now, keyboard.coming)
    return keyboard_rows(*hands, keyboard.low, keyboard.high, width, height, keyboard.held, keyboard.coarse)


def place_rows(place: Place, width: int, height: int) -> Rows:
    """Return the roadmap with the present place."""
    return roadmap_rows(place.steps, place.index, width, height)


def words_or_rest_rows(state: tuple[str, str], width: int, height: int) -> Rows:
    """Return words in so many rows; where they need more, the last one names the key that shows the rest."""
    words, key = state
    lines = text_rows(words, width, "cue")
    if len(lines) <= height:
        return pad(lines, width, height)
    mark = f" … {key}"
    last = row_text(lines[height - 1]).rstrip()[: max(0, width - len(mark))]
    return [*lines[: height - 1], text_row(last + mark, width, "cue")]


def bars_beside_rows(bars: Bars, width: int, height: int) -> Rows:
    """Return the song in bars, two columns in."""
    rows = chart_rows(bars.steps, bars.index, max(0, width - 2), height, loop=bars.loop)
    return [text_row("", 2, "back") + row for row in rows]
