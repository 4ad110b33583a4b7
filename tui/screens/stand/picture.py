"""The stand as a picture: a pure function of what is open, of the plan and of the size, in bands from top to bottom.

A band is drawn from its own arguments alone and kept, so that a step redraws only what it changes.
"""

from functools import lru_cache

from engine.planning.model import Plan, PlannedStep
from engine.song.model import Step
from tui.screens.bands import Band, bar_row, frozen, keep, kept, line, trouble_row
from tui.screens.stand.chords import HORNS_BESIDE, chords
from tui.screens.stand.heights import SMALLEST, Heights, heights, is_split
from tui.screens.stand.view import View, two_planned
from tui.screens.stand.words import bar_words, chord_words, horn_words, words_of_place
from tui.widgets.cells import Row, beside, blank, pad, text_row
from tui.widgets.chart import chart_rows
from tui.widgets.keyboard import keyboard_rows, song_range
from tui.widgets.moves import moves_rows
from tui.widgets.roadmap import roadmap_rows

LETTERED = 4
"""Rows of roadmap from which section and bar are in large letters."""

COMFORT = (80, 24)
"""Columns and rows that a small window is asked for."""

USUAL_RANGE = (41, 76)
"""F2 to E5, as MIDI numbers."""


def stand_bands(view: View, width: int, height: int) -> list[Band]:
    """Return the picture band by band, from top to bottom; together exactly `width` x `height` cells."""
    rows = heights(width, height, view.now.layout)
    small = width < SMALLEST[0] or height < SMALLEST[1]
    if is_split(view.now.layout, width, height):
        body = [_split(view, width, height - rows.bar - rows.status)]
    else:
        body = _body(view, width, rows, small)
    bands = [_bar(*bar_words(view, width), width, rows.bar), *body]
    return [*bands, _status(view, width, small)] if rows.status else bands


def _body(view: View, width: int, rows: Heights, small: bool) -> list[Band]:
    """Return what stands between the top bar and the line of keys."""
    now, coming = two_planned(view)
    bands = [chords(chord_words(view), width, rows.chords, view.style, view.ascii_only, small)]
    if rows.moves:
        bands.append(_moves(coming, width, rows.moves, view.planning and not view.now.at_end, view.coarse))
    if rows.keyboard:
        bands.append(_keyboard(now, coming, view, width, rows.keyboard))
    if rows.roadmap:
        bands.append(_roadmap(view.now.steps, view.now.step, width, rows.roadmap))
    if rows.place:
        horns = horn_words(view.horns) if width < HORNS_BESIDE else ()
        bands.append(line(words_of_place(view, rows.roadmap < LETTERED, horns), width, "cue"))
    return bands


def _split(view: View, width: int, height: int) -> Band:
    """Return the stand at the left and the song in bars at the right."""
    left = max(SMALLEST[0], width * 3 // 5)
    bands = _body(view, left, heights(left, height + 2), False)
    key = ("split", *map(id, bands), id(view.plan), view.now.step, view.now.loop, width, height)
    if drawn := kept(key):
        return drawn
    steps = view.plan.steps if view.plan else ()
    bars = chart_rows(steps, min(view.now.step, len(steps) - 1), width - left - 2, height, loop=view.now.loop)
    stand = pad([list(row) for band in bands for row in band], left, height)
    rows = beside(stand, blank(2, height), pad(bars, width - left - 2, height))
    return keep(key, (bands, view.plan), frozen(rows))


@lru_cache(maxsize=64)
def _bar(left: str, right: str, role: str, width: int, height: int) -> Band:
    if height <= 0:
        return ()
    return (tuple(bar_row(left, right, role, width)),)


def _moves(coming: PlannedStep | None, width: int, height: int, planning: bool, coarse: bool) -> Band:
    key = ("moves", id(coming), width, height, planning, coarse)
    if drawn := kept(key):
        return drawn
    rows = moves_rows(coming, width, height, coarse)
    if planning:
        rows = pad([text_row(" planning the hands ...", width, "dim")], width, height)
    return keep(key, (coming,), frozen(rows))


def _keyboard(now: PlannedStep | None, coming: PlannedStep | None, view: View, width: int, height: int) -> Band:
    key = ("keyboard", id(now), id(coming), id(view.plan), view.held, view.coarse, width, height)
    if drawn := kept(key):
        return drawn
    low, high = _range(view.plan)
    rows = keyboard_rows(now, coming, low, high, width, height, view.held, view.coarse)
    return keep(key, (now, coming, view.plan), frozen(rows))


def _range(plan: Plan | None) -> tuple[int, int]:
    """Return the keys drawn for a whole song; before there is a plan, those where hands usually are."""
    if plan is None:
        return USUAL_RANGE
    if _ranges and _ranges[0][0] is plan:
        return _ranges[0][1]
    _ranges[:] = [(plan, song_range(plan))]
    return _ranges[0][1]


_ranges: list[tuple[Plan, tuple[int, int]]] = []


def _roadmap(steps: tuple[Step, ...], index: int, width: int, height: int) -> Band:
    key = ("roadmap", id(steps), index, width, height)
    if drawn := kept(key):
        return drawn
    rows = roadmap_rows(steps, index, width, height)
    return keep(key, (steps,), frozen(rows))


def _status(view: View, width: int, small: bool) -> Band:
    if view.trouble:
        return trouble_row(view.trouble, view.keys, width)
    if small:
        return line(f"make the window larger: {COMFORT[0]}x{COMFORT[1]}", width, "dim")
    return _status_row(view.keys, view.status, width)


@lru_cache(maxsize=64)
def _status_row(left: str, right: str, width: int) -> Band:
    room = max(0, width - len(right) - 2)
    row: Row = text_row(f" {left}", room, "dim") + text_row(right, width - room, "dim")
    return (tuple(row),)
