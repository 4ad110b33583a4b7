import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tui.widgets.cells import (
    beside,
    blank,
    in_ascii_rows,
    overlay,
    pad,
    put,
    row_text,
    runs,
    safe,
    text_cells,
    text_row,
    text_rows,
)


@given(st.text(max_size=60), st.integers(0, 50), st.sampled_from(["left", "right", "centre"]))
def test_any_title_fills_exactly_its_columns(title: str, width: int, align: str) -> None:
    row = text_row(title, width, "text", align)
    assert len(row) == width
    assert cell_len(row_text(row)) == width


def test_a_long_title_ends_in_dots() -> None:
    assert row_text(text_row("Low Tide Lantern", 8, "title")) == "Low Tid…"


def test_a_double_width_title_is_never_cut_through_a_letter() -> None:
    assert row_text(text_row("東京の夜", 6, "title")) == "東京 …"
    assert row_text(text_row("東京の夜", 5, "title")) == "東京…"


@pytest.mark.parametrize("sign", ["\u202e", "\u200f", "\u200b", "\ufeff", "\x1b", "\x07", "\u0301"])
def test_signs_that_turn_or_break_the_line_are_left_out(sign: str) -> None:
    assert safe(f"a{sign}b".replace("a\u0301", "a\u0301")) in ("ab", "áb")


def test_tabs_and_line_ends_in_a_title_become_spaces() -> None:
    assert safe("one\ttwo\nthree") == "one two three"


def test_what_falls_outside_a_picture_is_lost() -> None:
    rows = blank(4, 2)
    put(rows, 2, 0, "long", "text")
    put(rows, 0, 7, "below", "text")
    overlay(rows, [[("x", "text")] * 3] * 3, -1, 1)
    assert [row_text(row) for row in rows] == ["  l…", "xx  "]


def test_a_double_width_letter_cut_by_the_edge_becomes_a_space() -> None:
    assert row_text(pad([text_cells("夜夜", 4, "text")], 3, 1)[0]) == "夜 "


def test_neighbours_of_one_role_become_one_run() -> None:
    row = text_row("ab", 2, "left") + text_row("c", 1, "right") + text_row("d", 1, "right")
    assert runs(row) == [("ab", "left"), ("cd", "right")]
    assert runs([]) == []


def test_an_ascii_terminal_gets_ascii_of_the_same_size() -> None:
    row = text_row("Café ♭ ▀▄█ 夜", 16, "text")
    assert row_text(in_ascii_rows([row])[0]) == 'Cafe b "_# ?    '


def test_pictures_of_one_height_stand_beside_each_other() -> None:
    assert [len(row) for row in beside(blank(3, 2), blank(4, 2))] == [7, 7]


def test_long_text_is_broken_between_words_into_rows_of_the_width() -> None:
    rows = text_rows("stop before it hurts", 12, "cue", indent=2)
    assert ["".join(char for char, _ in row) for row in rows] == ["  stop      ", "  before it ", "  hurts     "]


@pytest.mark.parametrize("sign", "←→↑↓·▶★♩✓‿―")
def test_an_ascii_terminal_shows_no_question_mark_for_our_own_signs(sign: str) -> None:
    shown = row_text(in_ascii_rows([text_row(sign, 1, "text")])[0])
    assert shown.isascii()
    assert shown != "?"
