"""The pictures of the README are drawn cell by cell."""

from pathlib import Path

import pytest

Image = pytest.importorskip("PIL.Image")
pyte = pytest.importorskip("pyte")

from tests.tui import picture  # noqa: E402
from tui.widgets.cells import text_row  # noqa: E402


def test_a_full_block_fills_its_cell(tmp_path: Path) -> None:
    picture.draw_rows([text_row("█ ", 2, "chord")], tmp_path / "x.png")
    drawn = Image.open(tmp_path / "x.png").convert("RGB")
    assert drawn.size == (2 * picture.CELL[0], picture.CELL[1])
    assert {drawn.getpixel((x, y)) for x in (0, 9) for y in (0, 19)} == {(255, 246, 216)}
    assert drawn.getpixel((15, 10)) == (14, 14, 18)


def test_a_terminals_screen_is_drawn_with_its_colours(tmp_path: Path) -> None:
    screen = pyte.Screen(4, 2)
    pyte.Stream(screen).feed("\x1b[48;2;255;0;0mab\x1b[0m")
    picture.draw_screen(screen, tmp_path / "x.png")
    drawn = Image.open(tmp_path / "x.png").convert("RGB")
    assert drawn.getpixel((0, 0)) == (255, 0, 0)
    assert drawn.getpixel((30, 30)) == (14, 14, 18)
