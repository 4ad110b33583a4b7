"""Draw rows of cells, or the screen of a terminal emulator, into a PNG: the pictures of the README, and eyes in tests.

Block elements are drawn as exact rectangles, since fonts leave hairlines between them; all else in DejaVu Sans Mono.
"""

from functools import lru_cache
from pathlib import Path
from typing import Any

from PIL import Image, ImageDraw, ImageFont

from tui.widgets.cells import Rows
from tui.widgets.palette import Palette

CELL = (10, 20)
"""Width and height of a cell in picture points."""

Look = tuple[str, str, str, bool, bool]
"""(character, ink, ground, bold, underlined); colours as #rrggbb."""

_QUARTERS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
_FROM_BELOW = "▁▂▃▄▅▆▇█"
_FROM_LEFT = "█▉▊▋▌▍▎▏"
_FONTS = ("/usr/share/fonts/truetype/dejavu", "/usr/share/fonts/dejavu", "/Library/Fonts", "C:/Windows/Fonts")


def draw_rows(rows: Rows, path: Path, theme: str = "dark") -> None:
    """Draw a picture made of cells in a theme's colours; plain is drawn light on black."""
    palette = Palette(theme)
    paper = palette.ground or "#000000"
    _draw([[_look(char, role, palette, paper) for char, role in row] for row in rows], path, paper)


def draw_screen(screen: Any, path: Path, paper: str = "#0e0e12") -> None:
    """Draw a pyte screen as it stands."""
    lines = []
    for y in range(screen.lines):
        cells = [screen.buffer[y][x] for x in range(screen.columns)]
        lines.append([_emulated(cell, paper) for cell in cells])
    _draw(lines, path, paper)


def _emulated(cell: Any, paper: str) -> Look:
    ink = "#d8d8d2" if cell.fg == "default" else _hex(cell.fg)
    ground = paper if cell.bg == "default" else _hex(cell.bg)
    if cell.reverse:
        ink, ground = ground, ink
    return cell.data, ink, ground, cell.bold, cell.underscore


def _hex(colour: str) -> str:
    named = {"black": "#000000", "red": "#cc4444", "green": "#44aa44", "brown": "#ccaa33", "blue": "#4477cc"}
    named |= {"magenta": "#aa55aa", "cyan": "#44aaaa", "white": "#d8d8d2"}
    return named.get(colour, f"#{colour}" if len(colour) == 6 else "#d8d8d2")


def _look(char: str, role: str, palette: Palette, paper: str) -> Look:
    style = palette.style(role)
    ink = style.color.get_truecolor().hex if style.color else "#d8d8d2"
    ground = style.bgcolor.get_truecolor().hex if style.bgcolor else paper
    if style.dim:
        ink = "#8a8a8a"
    if style.reverse:
        ink, ground = ground, ink
    return char, ink, ground, bool(style.bold), bool(style.underline)


def _draw(lines: list[list[Look]], path: Path, paper: str) -> None:
    wide, high = CELL
    columns = max((len(line) for line in lines), default=1)
    image = Image.new("RGB", (max(1, columns) * wide, max(1, len(lines)) * high), paper)
    pen = ImageDraw.Draw(image)
    for y, line in enumerate(lines):
        for x, (_, _, ground, _, _) in enumerate(line):
            pen.rectangle((x * wide, y * high, x * wide + wide - 1, y * high + high - 1), fill=ground)
        for x, look in enumerate(line):
            _draw_cell(pen, x * wide, y * high, look)
    image.save(path)


def _draw_cell(pen: ImageDraw.ImageDraw, left: int, top: int, look: Look) -> None:
    char, ink, _ground, bold, underlined = look
    wide, high = CELL
    if underlined:
        pen.rectangle((left, top + high - 2, left + wide - 1, top + high - 1), fill=ink)
    if char in ("", " "):
        return
    boxes = _boxes(char)
    if boxes is None and char in "░▒▓":
        _shade(pen, left, top, ink, "░▒▓".index(char) + 1)
    elif boxes is None:
        pen.text((left, top + 1), char, fill=ink, font=_font(bold))
    else:
        for x0, y0, x1, y1 in boxes:
            edges = (left + x0 * wide, top + y0 * high, left + x1 * wide - 1, top + y1 * high - 1)
            pen.rectangle(tuple(round(edge) for edge in edges), fill=ink)


def _boxes(char: str) -> list[tuple[float, float, float, float]] | None:
    """Return a block element as parts of the cell (left, top, right, bottom), or None for other characters."""
    if char in _QUARTERS:
        bits = _QUARTERS.index(char)
        return [(x / 2, y / 2, x / 2 + 0.5, y / 2 + 0.5) for x in (0, 1) for y in (0, 1) if bits >> (x + 2 * y) & 1]
    if char in _FROM_BELOW:
        return [(0, 1 - (_FROM_BELOW.index(char) + 1) / 8, 1, 1)]
    if char in _FROM_LEFT:
        return [(0, 0, (8 - _FROM_LEFT.index(char)) / 8, 1)]
    if char == "▕":
        return [(7 / 8, 0, 1, 1)]
    return None


def _shade(pen: ImageDraw.ImageDraw, left: int, top: int, ink: str, dark: int) -> None:
    for y in range(0, CELL[1], 2):
        for x in range((y // 2 % 2) * 2 if dark < 3 else 0, CELL[0], {1: 4, 2: 4, 3: 2}[dark]):
            pen.rectangle((left + x, top + y, left + x + (0 if dark == 1 else 1), top + y + 1), fill=ink)


@lru_cache(maxsize=2)
def _font(bold: bool) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    name = f"DejaVuSansMono{'-Bold' if bold else ''}.ttf"
    for folder in _FONTS:
        if Path(folder, name).exists():
            return ImageFont.truetype(str(Path(folder, name)), 16)
    return ImageFont.load_default()
