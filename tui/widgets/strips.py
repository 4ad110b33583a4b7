"""Rows of cells as Textual strips. Kept apart, so that the pictures themselves need no Textual."""

from rich.segment import Segment
from textual.strip import Strip

from tui.widgets.cells import Row, runs
from tui.widgets.palette import Palette


def to_strip(row: Row, palette: Palette) -> Strip:
    """Return a row as a strip, neighbours of one role merged into one segment."""
    return Strip([Segment(text, palette.style(role)) for text, role in runs(row)], len(row))
