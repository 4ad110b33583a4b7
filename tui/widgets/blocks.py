"""Bitmaps as cells: half blocks with square pixels, and quarter blocks with pixels half as wide as high."""

from functools import lru_cache

from tui.widgets import glyphs
from tui.widgets.cells import Row, Rows
from tui.widgets.glyphs import Bitmap

_QUARTERS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
"""Index: 1 left upper, 2 right upper, 4 left lower, 8 right lower."""


_HALVES = ((" ", "▄"), ("▀", "█"))


def half_blocks(bitmap: Bitmap, role: str) -> list[Row]:
    """Return a bitmap as cells, two pixels above each other in one."""
    lines = list(bitmap) + ([(0,) * glyphs.breadth(bitmap)] if len(bitmap) % 2 else [])
    return [
        [(_HALVES[upper][lower], role) for upper, lower in zip(lines[y], lines[y + 1], strict=True)]
        for y in range(0, len(lines), 2)
    ]


def quarter_blocks(bitmap: Bitmap, role: str) -> Rows:
    """Return a bitmap as cells of two by two pixels."""
    wide, high = glyphs.breadth(bitmap), len(bitmap)

    def pixel(x: int, y: int) -> int:
        return bitmap[y][x] if x < wide and y < high else 0

    return [
        [
            (
                _QUARTERS[pixel(x, y) + 2 * pixel(x + 1, y) + 4 * pixel(x, y + 1) + 8 * pixel(x + 1, y + 1)],
                role,
            )
            for x in range(0, wide, 2)
        ]
        for y in range(0, high, 2)
    ]


@lru_cache(maxsize=512)
def figure(text: str, role: str, width: int, height: int, edge: int = 0, coarse: bool = False, most: int = 99) -> Rows:
    """Return a finger number in the middle of a key `width` columns broad, without the key's first `edge` columns.

    Pixels are square where a column stays free, else half as wide, so that neighbouring figures stay apart; the narrow
    ones also where they make the figure a quarter higher, on black keys, which have no edge, a tenth. `coarse` has
    square ones alone, and they may fill the key; `most` is the pixels that it may be high.
    """
    sizes = [size for size in (20, 16, 14, 12, 10, 8, 6, 5) if size <= max(5, min(most, 2 * height))]
    room = width - edge + coarse
    square = next((size for size in sizes if glyphs.word_breadth("4", size) < room), 0)
    narrow = 0 if coarse else next((size for size in sizes if glyphs.word_breadth("4", size) < 2 * room), 5)
    size, times = (square, 2) if square >= (0.8 if edge else 0.9) * narrow else (narrow, 1)
    bitmap = glyphs.word(text, size or 5)
    lead = max(0, 2 * width - times * glyphs.breadth(bitmap) + 1) // 2 - 2 * edge
    lead = lead // 2 * 2 if coarse else lead
    lines = [((0,) * max(0, lead) + tuple(bit for bit in line for _ in range(times))) for line in bitmap]
    wide = 2 * (width - edge)
    return quarter_blocks(tuple((line + (0,) * wide)[:wide] for line in lines), role)
