"""Single rows of a screen: the one above with words at both ends, and the one of the keys below."""

from dataclasses import dataclass

from rich.cells import cell_len

from tui.widgets.cells import Row, Rows, choice_row, text_row

TITLE_KEPT = 16
"""Columns that a long title keeps beside key and tempo."""


@dataclass(frozen=True, slots=True)
class Ends:
    """Words at the left and at the right of a row, in one role."""

    left: str = ""
    right: str = ""
    role: str = "bar"


@dataclass(frozen=True, slots=True)
class KeyLine:
    """The line of keys, and at its right what sounds; a complaint goes before both."""

    keys: str = ""
    right: str = ""
    complaint: str = ""


def ends_rows(ends: Ends, width: int, height: int) -> Rows:
    """Return words at both ends of the first row; what does not fit is cut at the right.

    A title gives way to what stands right of it, down to its first letters.
    """
    return [_ends(ends.left, ends.right, ends.role, width)] if height > 0 else []


def _ends(left: str, right: str, role: str, width: int) -> Row:
    room = width - (min(cell_len(left), TITLE_KEPT) if role == "bar" else cell_len(left)) - 3
    if right and room >= 6:
        end = text_row(f"  {right} ", min(room + 1, cell_len(right) + 3), role)
        return text_row(f" {left}", width - len(end), role) + end
    return text_row(f" {left}", width, role)


def key_line_rows(line: KeyLine, width: int, height: int) -> Rows:
    """Return the line of keys; a complaint leaves of it what it does not need, the way to the help always."""
    if height <= 0:
        return []
    if line.complaint:
        room = max(0, width - len(line.keys) - 3)
        return [text_row(f" ! {line.complaint}", room, "warn") + text_row(f"  {line.keys}", width - room, "dim")]
    room = max(0, width - len(line.right) - 2)
    return [text_row(f" {line.keys}", room, "dim") + text_row(line.right, width - room, "dim")]


def line_rows(line: tuple[str, str], width: int, height: int) -> Rows:
    """Return one row of (words, role)."""
    words, role = line
    return [text_row(f" {words}", width, role)] if height > 0 else []


def choices_rows(lines: tuple[str, ...], width: int, height: int) -> Rows:
    """Return a list to choose from, the first line marked."""
    return [choice_row(line, width, place == 0) for place, line in enumerate(lines[:height])]
