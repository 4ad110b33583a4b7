"""Rows at the edges of a picture."""

import pytest

from tui.screens.bands import bar_row
from tui.widgets.cells import row_text


@pytest.mark.parametrize("width", [10, 40, 80])
def test_of_a_long_typed_line_the_end_is_shown(width: int) -> None:
    row = row_text(bar_row("note: " + "x" * 100 + "end_", "Enter", "here", width))
    assert len(row) == width
    assert row.rstrip().endswith("end_")
