"""A caret under the column of a fault."""

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from tui.cli import caret


def file(folder: Path, text: str) -> str:
    caret._lines.cache_clear()
    path = folder / "a.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_the_caret_points_at_the_column(tmp_path: Path) -> None:
    line, mark = caret.caret_lines(file(tmp_path, "a\n| C | Q |\n"), 2, 7)
    assert line[mark.index("^")] == "Q"


def test_a_long_line_is_cut_round_the_caret(tmp_path: Path) -> None:
    line, mark = caret.caret_lines(file(tmp_path, "| C " * 100 + "Q" + "| C " * 100), 1, 401)
    assert line[mark.index("^")] == "Q"
    assert len(line) <= 80


def test_a_tab_moves_nothing(tmp_path: Path) -> None:
    line, mark = caret.caret_lines(file(tmp_path, "\tQ"), 1, 2)
    assert line[mark.index("^")] == "Q"


def test_without_the_line_nothing_is_shown(tmp_path: Path) -> None:
    assert caret.caret_lines(file(tmp_path, "a"), 9, 1) == ()
    assert caret.caret_lines(str(tmp_path / "gone.toml"), 1, 1) == ()
    assert caret.caret_lines("chart", 1, 1) == ()


def test_any_place_in_any_line_fits_80_columns(tmp_path: Path) -> None:
    @given(st.text(max_size=200), st.integers(1, 5), st.integers(1, 300))
    def fits(text: str, line: int, column: int) -> None:
        assert all(len(row) <= 81 for row in caret.caret_lines(file(tmp_path, text), line, column))

    fits()
