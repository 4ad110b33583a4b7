"""Letters as bitmaps at any height: the two hand-drawn masters, their clean multiples, and strokes in between.

A bitmap is a tuple of rows, each row a tuple of 0 and 1. Everything is cached: letters are few and sizes fewer.
"""

from functools import lru_cache

from tui.widgets import font5, font8

Bitmap = tuple[tuple[int, ...], ...]

SIZES = (64, 56, 48, 40, 35, 32, 30, 25, 24, 20, 16, 15, 10, 8, 5)
"""Heights in pixels at which letters exist, from large to small."""


@lru_cache(maxsize=4096)
def glyph(char: str, size: int) -> Bitmap:
    """Return one letter `size` pixels high; an unknown letter is an empty box."""
    master, height = (font8.LETTERS, 8) if size % 8 == 0 else (font5.LETTERS, 5)
    drawn = master.get(char) or font5.LETTERS.get(char)
    if drawn is None:
        drawn = "#### #..# #..# #..# ####"
    rows = drawn.split()
    factor = size // len(rows) if size % len(rows) == 0 else max(1, size // height)
    bitmap = _enlarged(rows, factor)
    missing = size - len(bitmap)
    empty = ((0,) * len(bitmap[0]),)
    return empty * (missing // 2) + bitmap + empty * (missing - missing // 2)


def known(char: str) -> bool:
    """Tell whether the letter is drawn at all."""
    return char in font5.LETTERS


def gap(size: int) -> int:
    """Return the pixels left free between letters of this size."""
    return max(1, size // 8)


@lru_cache(maxsize=1024)
def word(text: str, size: int) -> Bitmap:
    """Return letters side by side, `size` pixels high."""
    rows: list[list[int]] = [[] for _ in range(size)]
    for place, char in enumerate(text):
        space = (0,) * (gap(size) if place else 0)
        for row, line in zip(rows, glyph(char, size), strict=True):
            row.extend(space + line)
    return tuple(tuple(row) for row in rows)


def breadth(bitmap: Bitmap) -> int:
    """Return the width of a bitmap in pixels."""
    return len(bitmap[0]) if bitmap else 0


def _enlarged(rows: list[str], factor: int) -> Bitmap:
    lines = [tuple(int(char == "#") for char in row for _ in range(factor)) for row in rows]
    return tuple(line for line in lines for _ in range(factor))
