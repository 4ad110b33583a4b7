"""Rows at the edges of a screen."""

import pytest

from tui.widgets.cells import row_text
from tui.widgets.lines import Ends, KeyLine, ends_rows, key_line_rows


@pytest.mark.parametrize("width", [1, 10, 40, 80])
def test_words_at_both_ends_fill_a_row_exactly(width: int) -> None:
    assert len(ends_rows(Ends("1/10  Low Tide Lantern", "E♭  ♩=92  4/4"), width, 1)[0]) == width


def test_a_long_title_gives_way_to_key_and_tempo() -> None:
    row = row_text(ends_rows(Ends("a title without end " * 5, "E♭  ♩=92"), 40, 1)[0])
    assert row.startswith(" a title")
    assert row.endswith("E♭  ♩=92 ")


def test_a_complaint_leaves_the_way_to_the_help() -> None:
    row = row_text(key_line_rows(KeyLine("? help", "no MIDI", "the disk is full " * 9), 60, 1)[0])
    assert row.startswith(" ! the disk is full")
    assert row.rstrip().endswith("? help")
