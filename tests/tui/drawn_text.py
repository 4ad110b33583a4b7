"""Pictures as a reader of tests takes them in."""

from tui.widgets.cells import Rows, row_text


def picture_text(rows: Rows) -> str:
    """Return the characters of a picture, a line a row."""
    return "\n".join(row_text(row) for row in rows)
