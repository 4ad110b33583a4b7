"""The chords of the stand: the present one left, the coming one right, the one after it below."""

from dataclasses import dataclass

from tui.screens.stand.words import Horns
from tui.widgets.beat_light import BEAT, beat_rows
from tui.widgets.cells import Rows, beside, blank, overlay, put
from tui.widgets.lettering import chord_rows, pretty, words_rows, written

HORNS_BESIDE = 100
"""Columns from which the horns' chords stand beside ours; else they are told in the line of the place."""


@dataclass(frozen=True, slots=True)
class Chords:
    """The present chord, the coming one and the one after, with their marks; `big` are words in the present one's
    place, `style` how symbols are written, `small` True where a window has room for chords alone."""

    present: str
    mark: str
    coming: str
    coming_mark: str
    after: str
    big: str = ""
    horns: Horns = ()
    style: str = "words"
    ascii_only: bool = False
    small: bool = False
    lamp: str = ""
    """The beat while the music is in time: a mark and its number."""


def chords_rows(chords: Chords, width: int, height: int) -> Rows:
    """Draw the present chord left, the coming one right and the one after below it."""
    if height <= 0:
        return []
    horns, small = chords.horns, chords.small
    horn_width = 14 if horns and width >= HORNS_BESIDE else 0
    air = 1 if height >= 10 and not small else 0
    height -= air
    first = (width - horn_width) * (6 if width < 60 else 11) // (10 if width < 60 else 20)
    second = width - horn_width - first
    low = 0 if height < 6 or small else max(3, height // 3)
    style, ascii_only = chords.style, chords.ascii_only
    beat = BEAT if chords.lamp and height >= 6 and first >= 40 else 0
    left = _present(chords.present, chords.mark, chords.big, first - beat, height, style, ascii_only)
    if beat:
        left = beside(left, beat_rows(chords.lamp, beat, height))
    label = 5 if second >= 24 else 0
    room = height - low - (air if low else 0)
    right = _labelled("next", chords.coming, chords.coming_mark, label, second, room, "next", style, ascii_only)
    if low:
        right += blank(second, air)
        right += _labelled("then", chords.after, "", label, second, low, "after", style, ascii_only)
    parts = [left, right]
    if horn_width:
        parts.append(_horns(horns, horn_width, height))
    return blank(width, air) + beside(*parts)


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


def _horns(horns: tuple[tuple[str, str, str], ...], width: int, height: int) -> Rows:
    """Write what each horn reads: the chords in its own written pitch."""
    rows = blank(width, height)
    for place, (key, present, coming) in enumerate(horns):
        put(rows, 0, 3 * place, f"{pretty(key)} horn", "dim")
        put(rows, 0, 3 * place + 1, f"{written(present)} › {written(coming)}", "text")
    return rows
