"""Pictures as plain values: rows of cells, a cell being one character and the name of its role.

A picture is a pure function of what it shows and of its size, so it is tested without a screen. A role is a name from
`tui.widgets.palette`, or "ink on ground" made of two of them. A character two columns wide is followed by an empty one,
so that a row always has exactly as many cells as columns.
"""

import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from textwrap import wrap

from rich.cells import cell_len

Cell = tuple[str, str]
Row = list[Cell]
Rows = list[Row]

BACK = "back"
"""The role of empty places."""


def blank(width: int, height: int, role: str = BACK) -> Rows:
    """Return an empty picture; sizes below zero count as zero."""
    return [[(" ", role)] * max(0, width) for _ in range(max(0, height))]


@lru_cache(maxsize=4096)
def safe(text: str) -> str:
    """Return `text` without what a terminal may draw wider, narrower or backwards: controls, marks on other letters,
    direction signs. Tabs and line ends become spaces."""
    kept = []
    for char in unicodedata.normalize("NFC", text):
        kind = unicodedata.category(char)
        if char.isspace():
            kept.append(" ")
        elif kind[0] not in "CM" and cell_len(char) > 0:
            kept.append(char)
    return "".join(kept)


@lru_cache(maxsize=8192)
def _fitted(text: str, width: int, more: str) -> tuple[str, ...]:
    chars: list[str] = []
    for char in safe(text):
        chars.append(char)
        chars.extend([""] * (cell_len(char) - 1))
    if len(chars) > width:
        del chars[max(0, width - 1) :]
        if chars and not _whole(chars):
            chars[-1] = " "
        chars.append(more)
    return tuple(chars[: max(0, width)])


def _whole(chars: list[str]) -> bool:
    """Tell whether the last character of a clipped row is complete."""
    return chars[-1] == "" or cell_len(chars[-1]) == 1


def text_cells(text: str, width: int, role: str, more: str = "…") -> Row:
    """Return `text` in at most `width` columns; what is too long ends in `more`."""
    return [(char, role) for char in _fitted(text, width, more)] if width > 0 else []


def text_row(text: str, width: int, role: str, align: str = "left", ground: str = "") -> Row:
    """Return `text` in exactly `width` columns; `align` is left, right or centre, `ground` the role of the rest."""
    cells = text_cells(text, width, role)
    rest = max(0, width - len(cells))
    before = {"left": 0, "right": rest, "centre": rest // 2}[align]
    empty = (" ", ground or role)
    return [empty] * before + cells + [empty] * (rest - before)


def choice_row(text: str, width: int, here: bool) -> Row:
    """Return a line of a list, one column in; the one under the cursor also says so with a sign."""
    return text_row((">" if here else " ") + text, width, "here" if here else "text")


def text_rows(text: str, width: int, role: str, indent: int = 1) -> Rows:
    """Return `text` in as many rows as it takes, broken between words, each `indent` columns in."""
    lines = wrap(safe(text), max(1, width - indent)) or [""]
    return [text_row(" " * indent + line, width, role) for line in lines]


def put(rows: Rows, x: int, y: int, text: str, role: str) -> None:
    """Write `text` into a picture at column `x`, row `y`; what falls outside is lost."""
    if 0 <= y < len(rows):
        overlay(rows, [text_cells(text, max(0, len(rows[y]) - x), role)], x, y)


def overlay(rows: Rows, part: Iterable[Row], x: int, y: int) -> None:
    """Lay a smaller picture over `rows` with its left upper corner at column `x`, row `y`."""
    for down, line in enumerate(part):
        if 0 <= y + down < len(rows):
            target = rows[y + down]
            for right, cell in enumerate(line):
                if 0 <= x + right < len(target):
                    target[x + right] = cell


def pad(rows: Rows, width: int, height: int, role: str = BACK) -> Rows:
    """Return the picture clipped or filled to exactly `width` x `height`, its left upper corner kept."""
    picture = blank(width, height, role)
    overlay(picture, rows, 0, 0)
    for row in picture:
        _mend_edge(row)
    return picture


def _mend_edge(row: Row) -> None:
    """Replace a double-width character that lost its second half at the right edge."""
    if row and row[-1][0] and cell_len(row[-1][0]) > 1:
        row[-1] = (" ", row[-1][1])


def beside(*parts: Rows) -> Rows:
    """Join pictures of one height from left to right."""
    return [[cell for row in rows for cell in row] for rows in zip(*parts, strict=True)]


def row_text(row: Row) -> str:
    """Return the characters of a row."""
    return "".join(char for char, _ in row)


_ASCII = str.maketrans(
    "█▀▄▌▐▖▗▘▝▙▛▜▟▚▞▒░▏│┃○●◆▁▂▃▅▇▲▼♭♯Δø°…‹›×–—•←→↑↓·▶★♩✓‿―",
    "#\"_||..''LFTJ\\/%:||]@*+.,-=#><b#^0o~<>x--*<>^v->*q+_=",
)
"""Signs have no letters where one could be read as a note, a finger or a key: a ring is @, a finger's way up the
keyboard > and down it <. Arrows that stand for keys are written out before (`keymap.sign`, `arrows_in_words`)."""

_ARROWS = {"↑↓": "up/down", "→": "->", "↑": "up", "↓": "down", "←": "left"}


def arrows_in_words(text: str) -> str:
    """Return a line with its arrows written out, for terminals that have none."""
    for arrow, words in _ARROWS.items():
        text = text.replace(arrow, words)
    return text


def in_ascii_rows(rows: Rows) -> Rows:
    """Return a picture in ASCII for terminals that know no more; letters become legible, not beautiful."""
    return [[(char.translate(_ASCII) if char else " ", role) for char, role in row] for row in _ascii_letters(rows)]


def _ascii_letters(rows: Rows) -> Rows:
    """Replace what no table knows: accents go, other letters become question marks."""
    return [[(_base(char), role) for char, role in row] for row in rows]


@lru_cache(maxsize=1024)
def _base(char: str) -> str:
    if not char or char.isascii() or ord(char) in _ASCII:
        return char
    base = unicodedata.normalize("NFKD", char)[0]
    return base if base.isascii() else "?"


def runs(row: Row) -> list[tuple[str, str]]:
    """Merge neighbours of one role: (text, role) runs from left to right."""
    merged: list[tuple[str, str]] = []
    start = 0
    for place in range(1, len(row) + 1):
        if place == len(row) or row[place][1] != row[start][1]:
            merged.append(("".join([char for char, _ in row[start:place]]), row[start][1]))
            start = place
    return merged
