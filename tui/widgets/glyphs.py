"""Letters as bitmaps at any height: two hand-drawn masters for small sizes, letters built from strokes for the others.

A bitmap is a tuple of rows, each row a tuple of 0 and 1. Everything is cached: letters are few and sizes fewer.
"""

from functools import lru_cache

from tui.widgets import font5, font8, strokes

Bitmap = tuple[tuple[int, ...], ...]

SIZES = (96, 88, 80, 72, 64, 56, 48, 44, 40, 36, 32, 28, 24, 20, 18, 16, 14, 12, 10, 8, 7, 5)
"""Heights in pixels that chords are tried at, from large to small; letters exist at any height from five."""

_UNKNOWN = "#### #..# #..# #..# ####"


@lru_cache(maxsize=4096)
def glyph(char: str, size: int) -> Bitmap:
    """Return one letter `size` pixels high; a letter that nobody drew is an empty box."""
    if size == 8 and char in font8.LETTERS:
        return _enlarged(font8.LETTERS[char].split(), 1)
    if size == 6 and char in font5.LETTERS:
        # Built from strokes a 3 so small is taken for a 9: the hand-drawn one is stretched by a row.
        rows = font5.LETTERS[char].split()
        return _enlarged([*rows[:4], *rows[3:]], 1)
    if size >= 6 and char in strokes.LETTERS:
        return strokes.drawn(char, size)
    bitmap = _enlarged(font5.LETTERS.get(char, _UNKNOWN).split(), max(1, size // 5))
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


@lru_cache(maxsize=4096)
def letter_breadth(char: str, size: int) -> int:
    """Return the width in pixels of a letter; large ones need not be drawn for it."""
    by_strokes = size > 6 and char in strokes.LETTERS and not (size == 8 and char in font8.LETTERS)
    return strokes.breadth(char, size) if by_strokes else breadth(glyph(char, size))


@lru_cache(maxsize=4096)
def word_breadth(text: str, size: int) -> int:
    """Return the width in pixels of letters side by side."""
    return sum(letter_breadth(char, size) for char in text) + gap(size) * max(0, len(text) - 1)


_SLIM = {"1": "# # # # #", "▲": ".#. #.# #.# ... ...", "▼": "... ... #.# #.# .#."}


@lru_cache(maxsize=512)
def plain(text: str, factor: int = 1, slim: bool = False) -> Bitmap:
    """Return letters of the smallest master, enlarged `factor` times; `slim` takes narrow arrows and ones."""
    rows: list[list[int]] = [[] for _ in range(5)]
    for place, char in enumerate(text):
        drawn = (_SLIM.get(char) if slim else None) or font5.LETTERS.get(char, _UNKNOWN)
        for row, line in zip(rows, _enlarged(drawn.split(), 1), strict=True):
            row.extend(((0,) if place else ()) + line)
    return tuple(tuple(bit for bit in row for _ in range(factor)) for row in rows for _ in range(factor))


def breadth(bitmap: Bitmap) -> int:
    """Return the width of a bitmap in pixels."""
    return len(bitmap[0]) if bitmap else 0


def _enlarged(rows: list[str], factor: int) -> Bitmap:
    lines = [tuple(int(char == "#") for char in row for _ in range(factor)) for row in rows]
    return tuple(line for line in lines for _ in range(factor))
