"""The stand as a picture: a pure function of what is open, of the plan and of the size, in bands from top to bottom.

A band is drawn from its own arguments alone and kept, so that a step redraws only what it changes.
"""

from dataclasses import dataclass
from functools import lru_cache

from rich.cells import cell_len

from engine.chord.numbers import number_of
from engine.plan.model import Plan, PlannedStep
from engine.practice.shapes import shape_words
from engine.song.model import Song, Step
from engine.song.pace import tempo_of
from tui.decisions import is_bar_note
from tui.rehearsal import Rehearsal
from tui.song_numbers import song_number, total
from tui.widgets.cells import Cell, Row, Rows, beside, blank, in_ascii_rows, overlay, pad, put, text_row
from tui.widgets.chart import chart_rows
from tui.widgets.keyboard import keyboard_rows, song_range
from tui.widgets.lettering import chord_rows, words_rows, written
from tui.widgets.moves import moves_rows
from tui.widgets.roadmap import place_words, roadmap_rows

Band = tuple[tuple[Cell, ...], ...]

SMALLEST = (50, 14)
"""Below this many columns or rows only the chords are shown, and a word about it."""

LETTERED = 4
"""Rows of roadmap from which section and bar are in large letters."""

SPLIT = (100, 20)
"""Fewer columns or rows show the split layout as the player's."""

TITLE_KEPT = 16
"""Columns that a long title keeps beside key and tempo."""

HORNS_BESIDE = 100
"""Columns from which the horns' chords stand beside ours; else they are told in the line of the place."""

COMFORT = (80, 24)


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """All that the stand shows. `asked` is (question, keys) of an open prompt, `lamp` a beat light."""

    now: Rehearsal
    plan: Plan | None = None
    asked: tuple[str, str] | None = None
    message: str = ""
    alarm: bool = False
    status: str = ""
    trouble: str = ""
    keys: str = ""
    lamp: str = ""
    style: str = "words"
    ascii_only: bool = False
    coarse: bool = False
    held: tuple[int, ...] = ()
    planning: bool = False
    numbers: bool = False
    horns: tuple[tuple[str, str, str], ...] = ()
    """(instrument's key, present chord as it reads it, coming chord)."""


@dataclass(frozen=True, slots=True)
class Heights:
    """Rows of each band; 0 where the band is left out."""

    bar: int
    chords: int
    moves: int
    keyboard: int
    roadmap: int
    place: int
    status: int


def heights(width: int, height: int, layout: str = "player") -> Heights:
    """Share the rows out: the chords get what the hands and the roadmap leave."""
    if width < SMALLEST[0] or height < SMALLEST[1]:
        bar = 1 if height >= 4 else 0
        status = 1 if height >= 3 else 0
        return Heights(bar, max(0, height - bar - status), 0, 0, 0, 0, status)
    roadmap = 1 if height < 28 else 4
    rest = height - 3 - roadmap
    if layout == "leader":
        roadmap = 4 if height >= 20 else 1
        moves, keyboard = (2, 0) if height < 32 else (4, 5)
        return Heights(1, height - 3 - roadmap - moves - keyboard, moves, keyboard, roadmap, 1, 1)
    lettered = width >= 60 and rest >= 18
    moves = (6 if width >= 150 and rest >= 32 else 4) if lettered else 2
    keyboard = max(4, min(14, rest * 2 // 5 if rest < 34 else rest // 4 + 4))
    return Heights(1, rest - moves - keyboard, moves, keyboard, roadmap, 1, 1)


def is_split(layout: str, width: int, height: int) -> bool:
    """Tell whether the song in bars has room beside the stand."""
    return layout == "split" and width >= SPLIT[0] and height >= SPLIT[1]


def stand_bands(view: View, width: int, height: int) -> list[Band]:
    """Return the picture band by band, from top to bottom; together exactly `width` x `height` cells."""
    rows = heights(width, height, view.now.layout)
    small = width < SMALLEST[0] or height < SMALLEST[1]
    if is_split(view.now.layout, width, height):
        body = [_split(view, width, height - rows.bar - rows.status)]
    else:
        body = _body(view, width, rows, small)
    bands = [_bar(*_bar_words(view, width), width, rows.bar), *body]
    return [*bands, _status(view, width, small)] if rows.status else bands


def _body(view: View, width: int, rows: Heights, small: bool) -> list[Band]:
    """Return what stands between the top bar and the line of keys."""
    now, coming = _two(view)
    bands = [_chords(_chord_words(view), width, rows.chords, view.style, view.ascii_only, small)]
    if rows.moves:
        bands.append(_moves(coming, width, rows.moves, view.planning and not view.now.at_end, view.coarse))
    if rows.keyboard:
        bands.append(_keyboard(now, coming, view, width, rows.keyboard))
    if rows.roadmap:
        bands.append(_roadmap(view.now.steps, view.now.step, width, rows.roadmap))
    if rows.place:
        horns = _horn_words(view.horns) if width < HORNS_BESIDE else ()
        bands.append(_line(_place_words(view, rows.roadmap < LETTERED, horns), width, "cue"))
    return bands


def _split(view: View, width: int, height: int) -> Band:
    """Return the stand at the left and the song in bars at the right."""
    left = max(SMALLEST[0], width * 3 // 5)
    bands = _body(view, left, heights(left, height + 2), False)
    key = ("split", *map(id, bands), id(view.plan), view.now.step, view.now.loop, width, height)
    if key in _kept:
        return _kept[key][1]
    steps = view.plan.steps if view.plan else ()
    bars = chart_rows(steps, min(view.now.step, len(steps) - 1), width - left - 2, height, loop=view.now.loop)
    stand = pad([list(row) for band in bands for row in band], left, height)
    rows = beside(stand, blank(2, height), pad(bars, width - left - 2, height))
    return _keep(key, (bands, view.plan), tuple(tuple(row) for row in rows))


def stand_rows(view: View, width: int, height: int) -> Rows:
    """Return the whole picture: exactly `width` x `height` cells."""
    return pad([list(row) for band in stand_bands(view, width, height) for row in band], width, height)


# What stands where


def _two(view: View) -> tuple[PlannedStep | None, PlannedStep | None]:
    """Return the planned steps of now and next, where there is a plan."""
    steps = view.plan.steps if view.plan else ()
    return _at(steps, view.now.step), _at(steps, view.now.coming)


def _following(now: Rehearsal, index: int | None) -> int | None:
    if index is None:
        return None
    return index + 1 if index + 1 < len(now.steps) else None


def _at(steps: tuple[PlannedStep, ...], index: int | None) -> PlannedStep | None:
    return steps[index] if index is not None and index < len(steps) else None


def _chord_words(view: View) -> "_Words":
    """Return (present chord, its mark, coming chord, its mark, the one after, words in its place, horns)."""
    now = view.now
    first, second = now.coming, _following(now, now.coming)
    big = ""
    if now.at_end:
        following = now.songs[now.song + 1] if now.song + 1 < len(now.songs) else None
        big = "end of the set" if following is None else following.song.title
        coming = _symbol(following.steps, 0, view.numbers) if following else ""
        return "", "", coming, "", "", big if now.songs else "no songs in this set", ()
    present = now.steps[now.step]
    coming_mark = now.steps[first].mark if first is not None else ""
    ending = "" if first is not None else "end"
    return (
        _symbol(now.steps, now.step, view.numbers),
        present.mark,
        _symbol(now.steps, first, view.numbers) or ending,
        coming_mark,
        _symbol(now.steps, second, view.numbers),
        big,
        view.horns,
    )


def _symbol(steps: tuple[Step, ...], index: int | None, numbers: bool) -> str:
    if index is None or index >= len(steps):
        return ""
    step = steps[index]
    return number_of(step.chord, step.key) if numbers and step.chord else step.symbol


def _bar_words(view: View, width: int) -> tuple[str, str, str]:
    """Return (left words, right words, role) of the top bar."""
    if view.asked is not None:
        return view.asked[0], view.asked[1], "here"
    if view.message:
        return view.message, view.lamp, "warn" if view.alarm else "here"
    place = view.now.here
    if place is None:
        return view.now.set_list.title, "", "bar"
    song = place.song
    lock = "  LOCKED" if view.now.locked else ""
    key, tempo = song_key(song, view.now.now), _tempo(song, view.now.now)
    right = f"{key}  {tempo}  {song.meter}{_feel(song, width)}{lock}  {view.lamp}"
    set_list = view.now.set_list
    return f"{song_number(set_list, view.now.song)}/{total(set_list)}  {song.title}", right.rstrip(), "bar"


def song_key(song: Song, step: Step | None) -> str:
    """Return the key at a step, with the song's own where they differ (a key change inside)."""
    if step is None or step.key in ("", song.key):
        return pretty_key(song.key)
    return f"{pretty_key(step.key)} (song in {pretty_key(song.key)})"


def pretty_key(key: str) -> str:
    return key[:1] + key[1:].replace("b", "♭").replace("#", "♯")


def _tempo(song: Song, step: Step | None = None) -> str:
    """Return the tempo at a step, the song's own where none is given."""
    tempo = song.tempo if step is None else tempo_of(song, step)
    return f"{'♩.' if song.meter.compound else '♩'}={tempo:g}"


def _feel(song: Song, width: int) -> str:
    return f"  {song.feel}" if song.feel != "straight" and width >= 60 else ""


def _place_words(view: View, placed: bool, horns: tuple[str, ...]) -> str:
    """Return section, bar and pass (unless they stand above in large letters), cue, vamp, notes that belong here, and
    what the horns read where that does not stand above."""
    now = view.now
    if now.at_end:
        if now.song + 1 < len(now.songs):
            following = now.songs[now.song + 1].song
            return (
                f"end of {now.songs[now.song].song.title}.  Forward opens {following.title}: "
                f"{pretty_key(following.key)}, {_tempo(following)}, {following.meter}, count {following.count}"
            )
        return "that was the last song of the set" if now.songs else "add songs to the set's file, or open another set"
    step = now.steps[now.step]
    parts = [place_words(now.steps, now.step)] if placed else []
    if step.until:
        parts.append("CUE GIVEN, out at the end" if now.cued else f"VAMP until {step.until}: c = cue")
    if now.loop:
        parts.append("LOOP")
    if step.cue:
        parts.append(step.cue)
    place = now.here
    parts += [*notes_here(place.song.note if place else "", step), *horns]
    present, planned = _two(view)
    if planned is not None and planned.warnings:
        parts.append("! " + planned.warnings[0])
    held = shape_words(present, planned)
    if held:
        parts.append(held)
    return "  ·  ".join(parts)


def notes_here(note: str, step: Step) -> list[str]:
    """Return the notes for a step: those of its bar (`Verse bar 3: watch the singer`), and at the top the song's."""
    lines = [line.strip() for line in note.replace(";", "\n").splitlines() if line.strip()]
    here = f"{step.section} bar {step.bar}:"
    own = [line.removeprefix(here).strip() for line in lines if line.startswith(here)]
    whole = [line for line in lines if not is_bar_note(line)]
    return own + (whole if step.index == 0 else [])


@lru_cache(maxsize=64)
def _bar(left: str, right: str, role: str, width: int, height: int) -> Band:
    if height <= 0:
        return ()
    return (tuple(bar_row(left, right, role, width)),)


def bar_row(left: str, right: str, role: str, width: int) -> Row:
    """Return a row with words at both ends; what does not fit is cut at the right, of a typed line at the left.

    A title gives way to what stands right of it, down to its first letters.
    """
    if left.endswith("_") and cell_len(left) > width - 2:
        left = "…" + left[3 - width :]
    room = width - (min(cell_len(left), TITLE_KEPT) if role == "bar" else cell_len(left)) - 3
    if right and room >= 6:
        end = text_row(f"  {right} ", min(room + 1, cell_len(right) + 3), role)
        return text_row(f" {left}", width - len(end), role) + end
    return text_row(f" {left}", width, role)


_Words = tuple[str, str, str, str, str, str, tuple[tuple[str, str, str], ...]]


@lru_cache(maxsize=64)
def _chords(words: _Words, width: int, height: int, style: str, ascii_only: bool, small: bool) -> Band:
    """Draw the present chord left, the coming one right and the one after below it."""
    present, mark, coming, coming_mark, after, big, horns = words
    if height <= 0:
        return ()
    horn_width = 14 if horns and width >= HORNS_BESIDE else 0
    air = 1 if height >= 10 and not small else 0
    height -= air
    first = (width - horn_width) * (6 if width < 60 else 11) // (10 if width < 60 else 20)
    second = width - horn_width - first
    low = 0 if height < 6 or small else max(3, height // 3)
    left = _present(present, mark, big, first, height, style, ascii_only)
    label = 5 if second >= 24 else 0
    right = _labelled(
        "next", coming, coming_mark, label, second, height - low - (air if low else 0), "next", style, ascii_only
    )
    if low:
        right += blank(second, air)
        right += _labelled("then", after, "", label, second, low, "after", style, ascii_only)
    parts = [left, right]
    if horn_width:
        parts.append(_horns(horns, horn_width, height))
    return tuple(tuple(row) for row in blank(width, air) + beside(*parts))


def _present(symbol: str, mark: str, big: str, width: int, height: int, style: str, ascii_only: bool) -> Rows:
    rows = blank(width, height)
    if big:
        overlay(rows, words_rows(big, width - 2, min(height, 9), "chord"), 1, max(0, (height - 9) // 2))
        return rows
    drawn = _drawn_chord(symbol, width - 2, height - (1 if mark and height > 5 else 0), "chord", style, ascii_only)
    overlay(rows, drawn, 1, 0)
    if mark and height > 5:
        put(rows, 1, height - 1, f"({mark})", "cue")
    return rows


def _labelled(
    label: str, symbol: str, mark: str, indent: int, width: int, height: int, role: str, style: str, ascii_only: bool
) -> Rows:
    rows = blank(width, height)
    if symbol and indent:
        put(rows, 0, (height - 1) // 2, label, "dim")
    drawn = _drawn_chord(symbol, width - indent - 1, height, role, style, ascii_only)
    overlay(rows, drawn, indent, 0)
    if mark and indent and height >= 3:
        put(rows, 0, (height - 1) // 2 + 1, mark[:indent], "cue")
    return rows


def _drawn_chord(symbol: str, width: int, height: int, role: str, style: str, ascii_only: bool) -> Rows:
    if symbol in ("end", "N.C.", "NC"):
        return words_rows(symbol, width, min(height, 5), role)
    return chord_rows(symbol, width, height, role, style, ascii_only) if symbol else blank(width, height)


def _horn_words(horns: tuple[tuple[str, str, str], ...]) -> tuple[str, ...]:
    """Return what each horn reads, for the line below where the chords leave no room beside them."""
    return tuple(f"{pretty_key(key)} reads {written(now)} › {written(coming)}" for key, now, coming in horns)


def _horns(horns: tuple[tuple[str, str, str], ...], width: int, height: int) -> Rows:
    """Write what each horn reads: the chords in its own written pitch."""
    rows = blank(width, height)
    for place, (key, present, coming) in enumerate(horns):
        put(rows, 0, 3 * place, f"{key} horn", "dim")
        put(rows, 0, 3 * place + 1, f"{written(present)} › {written(coming)}", "text")
    return rows


# PlannedStep and Plan are compared by identity here: hashing a whole plan at every step would cost more than drawing.
_kept: dict[tuple[object, ...], tuple[tuple[object, ...], Band]] = {}
KEPT = 256


def _keep(key: tuple[object, ...], alive: tuple[object, ...], band: Band) -> Band:
    """Keep a band under a key with identities in it; `alive` holds what they belong to, so that none is used again."""
    if len(_kept) >= KEPT:
        _kept.clear()
    _kept[key] = (alive, band)
    return band


def _moves(coming: PlannedStep | None, width: int, height: int, planning: bool, coarse: bool) -> Band:
    key = ("moves", id(coming), width, height, planning, coarse)
    if key in _kept:
        return _kept[key][1]
    rows = moves_rows(coming, width, height, coarse)
    if planning:
        rows = pad([text_row(" planning the hands ...", width, "dim")], width, height)
    return _keep(key, (coming,), tuple(tuple(row) for row in rows))


def _keyboard(now: PlannedStep | None, coming: PlannedStep | None, view: View, width: int, height: int) -> Band:
    key = ("keyboard", id(now), id(coming), id(view.plan), view.held, view.coarse, width, height)
    if key in _kept:
        return _kept[key][1]
    low, high = _range(view.plan)
    rows = keyboard_rows(now, coming, low, high, width, height, view.held, view.coarse)
    return _keep(key, (now, coming, view.plan), tuple(tuple(row) for row in rows))


def _range(plan: Plan | None) -> tuple[int, int]:
    """Return the keys drawn for a whole song; before there is a plan, those where hands usually are."""
    if plan is None:
        return USUAL_RANGE
    if _ranges and _ranges[0][0] is plan:
        return _ranges[0][1]
    _ranges[:] = [(plan, song_range(plan))]
    return _ranges[0][1]


_ranges: list[tuple[Plan, tuple[int, int]]] = []
USUAL_RANGE = (41, 76)
"""F2 to E5, as MIDI numbers."""


def _roadmap(steps: tuple[Step, ...], index: int, width: int, height: int) -> Band:
    key = ("roadmap", id(steps), index, width, height)
    if key in _kept:
        return _kept[key][1]
    rows = roadmap_rows(steps, index, width, height)
    return _keep(key, (steps,), tuple(tuple(row) for row in rows))


@lru_cache(maxsize=64)
def _line(text: str, width: int, role: str) -> Band:
    return (tuple(text_row(f" {text}", width, role)),)


@lru_cache(maxsize=64)
def _status_row(left: str, right: str, width: int) -> Band:
    room = max(0, width - len(right) - 2)
    row: Row = text_row(f" {left}", room, "dim") + text_row(right, width - room, "dim")
    return (tuple(row),)


@lru_cache(maxsize=64)
def trouble_row(words: str, keys: str, width: int) -> Band:
    """Return what is wrong, and beside it the keys that there is room for: how to the help is never lost."""
    room = max(0, width - len(keys) - 3)
    return (tuple(text_row(f" ! {words}", room, "warn") + text_row(f"  {keys}", width - room, "dim")),)


def _status(view: View, width: int, small: bool) -> Band:
    if view.trouble:
        return trouble_row(view.trouble, view.keys, width)
    if small:
        return _line(f"make the window larger: {COMFORT[0]}x{COMFORT[1]}", width, "dim")
    return _status_row(view.keys, view.status, width)


def ascii_band(band: Band) -> Band:
    """Return a band in ASCII, for terminals that know no more."""
    key = ("ascii", id(band))
    if key in _kept:
        return _kept[key][1]
    return _keep(key, (band,), tuple(tuple(row) for row in in_ascii_rows([list(row) for row in band])))
