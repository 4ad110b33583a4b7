"""Chord symbols and cue words in letters large enough to read from 1.5 m, made of half blocks.

A chord is stacked as charts write it: the root large, accidental and quality smaller at its top right, the bass at the
bottom right. The largest sizes that fit are taken; a symbol too wide for all of them is written shorter (maj7 as Δ7).
"""

import re
import unicodedata
from functools import lru_cache

from tui.widgets import glyphs
from tui.widgets.blocks import half_blocks
from tui.widgets.cells import Cell, Rows, blank, safe, text_row
from tui.widgets.glyphs import Bitmap

_SYMBOL = re.compile(r"([A-H])((?:[#b♯♭](?!\d)|[#b♯♭](?=\d))*)(.*?)(?:/([A-H][#b♯♭]*))?", re.DOTALL)
_SHORTER = (("maj", "Δ"), ("Maj", "Δ"), ("m7♭5", "ø7"), ("m7(♭5)", "ø7"), ("dim", "°"), ("aug", "+"))
_ASCII = {"♭": "b", "♯": "#", "Δ": "maj", "ø": "m7b5", "°": "dim"}


def chord_rows(
    symbol: str, width: int, height: int, role: str = "chord", style: str = "words", ascii_only: bool = False
) -> Rows:
    """Return a chord symbol as large as `width` x `height` allows, at its left, centred from top to bottom.

    `style` is words (maj7, m7♭5, dim) or signs (Δ7, ø7, °7). Under three rows it is plain text; `ascii_only` is for those
    rows, since the letters themselves are blocks.
    """
    if width <= 0 or height <= 0:
        return blank(width, height)
    return [list(row) for row in _chord(safe(symbol).strip(), width, height, role, style, ascii_only)]


@lru_cache(maxsize=256)
def _chord(
    symbol: str, width: int, height: int, role: str, style: str, ascii_only: bool
) -> tuple[tuple[Cell, ...], ...]:
    forms = [
        written(symbol, style),
        written(symbol, "signs"),
        written(symbol, "signs").replace("(", "").replace(")", ""),
    ]
    for form in dict.fromkeys(forms):
        stacked = _stacked(form, width, 2 * height)
        if stacked is not None:
            return _framed(stacked, width, height, role)
    tight = glyphs.word(forms[-1], 5)
    if height * 2 >= 5 and width >= 12:
        return _framed(tuple(line[:width] for line in tight), width, height, role)
    plain = in_ascii(forms[0]) if ascii_only else forms[0]
    rows = blank(width, height, role)
    rows[(height - 1) // 2] = text_row(plain, width, role)
    return tuple(tuple(row) for row in rows)


def written(symbol: str, style: str = "words") -> str:
    """Return a symbol with real signs for flat and sharp, and in the chosen style of quality (words or signs)."""
    found = _SYMBOL.fullmatch(symbol)
    if not found:
        return symbol
    root, signs, quality, bass = found[1], found[2], found[3], found[4]
    quality = re.sub(r"b(?=\d)", "♭", quality).replace("#", "♯")
    if style == "signs":
        for words, sign in _SHORTER:
            quality = quality.replace(words, sign)
    name = root + signs.replace("b", "♭").replace("#", "♯")
    return name + quality + (f"/{bass[0]}{bass[1:].replace('b', '♭').replace('#', '♯')}" if bass else "")


def in_ascii(text: str) -> str:
    """Return chord text without signs that a plain font may lack."""
    return "".join(_ASCII.get(char, char) for char in text)


def _parts(form: str) -> tuple[str, str, str]:
    """Split a written symbol into root letter, accidental with quality, and "/bass"."""
    found = _SYMBOL.fullmatch(form)
    if not found:
        return form, "", ""
    return found[1], found[2] + found[3], f"/{found[4]}" if found[4] else ""


def _steps(height: int, bass: bool) -> list[tuple[int, int, int]]:
    """Return (root, quality, bass) heights in pixels that fit in `height`, the most legible first."""
    sizes = [size for size in glyphs.SIZES if size <= height]
    steps = []
    for root in sizes:
        for small in [size for size in sizes if size <= root * 0.7 or size == 5]:
            for low in [size for size in sizes if size <= small] if bass else [0]:
                if small + low + glyphs.gap(small) <= height or not bass:
                    steps.append((root, small, low))
    return sorted(steps, key=lambda step: (-(step[0] + 1.5 * step[1] + step[2]), -step[0]))


def _stacked(form: str, width: int, height: int) -> Bitmap | None:
    """Return the largest stacking of a written symbol that fits in `width` x `height` pixels, or None."""
    root, quality, bass = _parts(form)
    for large, small, low in _steps(height, bool(bass)):
        first = glyphs.word(root, large)
        upper = glyphs.word(quality, small) if quality else ()
        lower = glyphs.word(bass, low) if bass else ()
        space = max(1, large // 8)
        right = max(glyphs.breadth(upper), glyphs.breadth(lower))
        if glyphs.breadth(first) + (space + right if right else 0) <= width:
            return _composed(first, upper, lower, space)
    return None


def _composed(first: Bitmap, upper: Bitmap, lower: Bitmap, space: int) -> Bitmap:
    wide = glyphs.breadth(first)
    right = max(glyphs.breadth(upper), glyphs.breadth(lower))
    total = max(len(first), len(upper) + len(lower) + (1 if upper and lower else 0))
    canvas = [[0] * (wide + (space + right if right else 0)) for _ in range(total)]
    for part, x, y in ((first, 0, 0), (upper, wide + space, 0), (lower, wide + space, total - len(lower))):
        for down, line in enumerate(part):
            canvas[y + down][x : x + len(line)] = line
    return tuple(tuple(line) for line in canvas)


def _framed(bitmap: Bitmap, width: int, height: int, role: str, centre: bool = False) -> tuple[tuple[Cell, ...], ...]:
    """Return a bitmap as half blocks in the middle of exactly `width` x `height` cells."""
    rows = half_blocks(bitmap, role)
    above = max(0, (height - len(rows)) // 2)
    left = max(0, (width - glyphs.breadth(bitmap)) // 2) if centre else 0
    empty: Cell = (" ", role)
    body = [([empty] * left + row + [empty] * width)[:width] for row in rows[:height]]
    lines = [[empty] * width] * above + body
    return tuple(tuple(line) for line in lines + [[empty] * width] * (height - len(lines)))


def words_rows(text: str, width: int, height: int, role: str, align: str = "left") -> Rows:
    """Return cue words or a section's name in capitals five pixels high (three rows), enlarged when there is room.

    What no letter is drawn for, or a panel under three rows, is plain text. Too long a text ends where the panel does.
    """
    if width <= 0 or height <= 0:
        return blank(width, height)
    return [list(row) for row in _words(safe(text).strip(), width, height, role, align == "centre")]


@lru_cache(maxsize=512)
def _words(text: str, width: int, height: int, role: str, centre: bool) -> tuple[tuple[Cell, ...], ...]:
    capitals = _capitals(text)
    if height >= 3 and width >= 5 and all(glyphs.known(char) for char in capitals):
        factor = max(1, min(2 * height // 5, width // max(1, glyphs.breadth(glyphs.word(capitals, 5)))))
        bitmap = glyphs.word(_shortened(capitals, width // factor), 5 * factor)
        return _framed(bitmap, width, height, role, centre)
    rows = blank(width, height, role)
    rows[(height - 1) // 2] = text_row(text, width, role, "centre" if centre else "left")
    return tuple(tuple(row) for row in rows)


def _capitals(text: str) -> str:
    """Return capitals without marks that the letters lack: Café becomes CAFE."""
    bare = [char for char in unicodedata.normalize("NFKD", text.upper()) if not unicodedata.combining(char)]
    return "".join(bare).translate({0x2014: "–", 0x2019: "'", 0x2018: "'", 0x201C: '"', 0x201D: '"'})


def _shortened(capitals: str, width: int) -> str:
    """Return as many letters as fit in `width` pixels; two dots tell that some are missing."""
    if glyphs.breadth(glyphs.word(capitals, 5)) <= width:
        return capitals
    kept = capitals
    while kept and glyphs.breadth(glyphs.word(kept + "..", 5)) > width:
        kept = kept[:-1]
    return kept.rstrip() + ".."
