"""The beat in large letters while the music is in time."""

from tui.widgets.cells import Rows, blank, overlay, text_row
from tui.widgets.lettering import words_rows

BEAT = 9
"""Columns of the beat light."""


def beat_rows(lamp: str, width: int, height: int) -> Rows:
    """Draw the beat's number large, on the first beat in a frame; `lamp` is a mark and the number."""
    number = lamp.split()[-1]
    rows = blank(width, height)
    role = "here" if lamp.startswith("●") else "text"
    overlay(rows, [text_row("", width - 1, role)] * min(5, height), 0, height - min(5, height))
    overlay(rows, words_rows(number, width - 3, 3, role), 1, height - min(4, height))
    return rows
