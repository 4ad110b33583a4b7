"""Rows at the edges of a picture."""

import pytest

from tui.widgets.cells import row_text
from tui.widgets.lines import Ends, ends_rows


@pytest.mark.parametrize("width", [10, 40, 80])
def test_of_a_long_typed_line_the_end_is_shown(width: int) -> None:
    row = row_text(ends_rows(Ends("note: " + "x" * 100 + "end_", "Enter", "here"), width, 1)[0])
    assert len(row) == width
    assert row.rstrip().endswith("end_")
