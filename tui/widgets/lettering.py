"""Chord symbols and cue words in letters large enough to read from 1.5 m, made of half blocks.

A chord is stacked as charts write it: the root large, accidental and quality smaller at its top right, the bass at the
bottom right. The largest sizes that fit are taken; a symbol too wide for all of them is written shorter (maj7 as Δ7).
"""

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from tui.widgets import glyphs
from tui.widgets.blocks import half_blocks, quarter_blocks
from tui.widgets.cells import Cell, Rows, blank, overlay, safe, text_row
from tui.widgets.glyphs import Bitmap

_SYMBOL = re.compile(r"([A-H]|[#b♯♭]*[1-7])([#b♯♭]*)(.*?)(?:/([A-H][#b♯♭]*|[#b♯♭]*[1-7]))?", re.DOTALL)
_SHORTER = (("maj", "Δ"), ("Maj", "Δ"), ("m7♭5", "ø7"), ("m7(♭5)", "ø7"), ("dim", "°"), ("aug", "+"))
_ASCII = {"♭": "b", "♯": "#", "Δ": "maj", "ø": "m7b5", "°": "dim"}


def chord_rows(
    symbol: str, width: int, height: int, role: str = "chord", style: str = "words", ascii_only: bool = False
) -> Rows:
    """Return a chord symbol as large as `width` x `height` allows, at its left, centred from top to bottom.

    `style` is words (maj7, m7♭5, dim) or signs (Δ7, ø7, °7). Under three rows it is plain text; `ascii_only` is for
    those rows, since the letters themselves are blocks.
    """
    if width <= 0 or height <= 0:
        return blank(width, height)
    return [list(row) for row in _chord(safe(symbol).strip(), width, height, role, style, ascii_only)]


@lru_cache(maxsize=128)
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
    if height >= 3 and (narrow := _narrow(forms[-1].replace(",", ""), width, height, role)):
        return _placed(narrow, width, height, role)
    plain = in_ascii(forms[0]) if ascii_only else forms[0]
    rows = blank(width, height, role)
    rows[(height - 1) // 2] = text_row(plain, width, role)
    return tuple(tuple(row) for row in rows)


@lru_cache(maxsize=2048)
def pretty(name: str) -> str:
    """Return a key or a note with real signs: Eb4 as E♭4."""
    return name[:1] + name[1:].replace("b", "♭").replace("#", "♯")


def pretty_words(text: str) -> str:
    """Return words with real signs in the keys and notes among them: `key Eb to F#m`, `up to Ab4`."""
    return re.sub(r"\b[A-G](?:bb?|##?)(?=m?\b|m?-?\d|\W|$)", lambda found: pretty(found[0]), text)


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
    name = (root + signs).replace("b", "♭").replace("#", "♯")
    return name + quality + (f"/{bass.replace('b', '♭').replace('#', '♯')}" if bass else "")


def in_ascii(text: str) -> str:
    """Return chord text without signs that a plain font may lack."""
    return "".join(_ASCII.get(char, char) for char in text)


def _narrow(form: str, width: int, height: int, role: str) -> Rows:
    """Return a symbol with all but its root in pixels half as wide as high; empty if still too wide."""
    found = _SYMBOL.fullmatch(form)
    root, sign, quality, bass = found.groups() if found else ("", "", form, None)
    upper = quarter_blocks(glyphs.word(sign + quality, 5), role) if sign + quality else []
    lower = quarter_blocks(glyphs.word(f"/{bass}", 5), role) if bass else []
    for size in [size for size in glyphs.SIZES if size <= 2 * height]:
        first = half_blocks(glyphs.word(root, size), role) if root else []
        x = len(first[0]) + 1 if first else 0
        below = height >= 6
        across = [len(part[0]) for part in (upper, lower) if part]
        if x + (max(across, default=0) if below else sum(across)) <= width:
            rows = blank(width, max(len(first), 3 * (1 + bool(lower and below)) if across else 0), role)
            overlay(rows, first, 0, 0)
            overlay(rows, upper, x, 0)
            overlay(rows, lower, x if below or not upper else x + len(upper[0]), len(rows) - 3)
            return rows
    return []


@dataclass(frozen=True, slots=True)
class _Step:
    """Heights in pixels of root, its accidental, quality and bass; the bass is below the quality or `aside` of it."""

    root: int
    sign: int
    quality: int
    bass: int
    aside: bool = False

    @property
    def space(self) -> int:
        """Pixels between the root and what follows."""
        return max(1, self.root // 8)

    @property
    def worth(self) -> tuple[float, int]:
        """Legibility: what the eye needs first counts most."""
        return self.root + 1.6 * self.quality + 0.5 * self.sign + 0.8 * self.bass - self.aside, self.root


@lru_cache(maxsize=256)
def _steps(height: int, bass: bool) -> tuple[_Step, ...]:
    """Return the stackings that fit in `height` pixels, the most legible first."""
    sizes = [size for size in glyphs.SIZES if size <= height]
    steps = []
    for root in sizes:
        for small in [size for size in sizes if size <= root * 0.66 or size == 5]:
            for sign in {small, next((size for size in sizes if size <= root * 0.62), small)}:
                sign = max(sign, small)
                for low in [size for size in sizes if size <= small] if bass else [0]:
                    steps += [_Step(root, sign, small, low, aside=True)] if bass else []
                    steps += [_Step(root, sign, small, low)] if sign + low < height or not bass else []
    return tuple(sorted(set(steps), key=lambda step: step.worth, reverse=True))


def _stacked(form: str, width: int, height: int) -> Bitmap | None:
    """Return the largest stacking of a written symbol that fits in `width` x `height` pixels, or None."""
    found = _SYMBOL.fullmatch(form)
    root, sign, quality, bass = found.groups() if found else (form, "", "", None)
    low = f"/{bass}" if bass else ""
    for step in _steps(height, bool(bass)):
        if _breadth(step, root, sign, quality, low) <= width:
            return _composed(step, root, (sign, quality), low)
    return None


def _breadth(step: _Step, root: str, sign: str, quality: str, low: str) -> int:
    """Return the columns of a stacking without drawing it."""
    first, bass = glyphs.word_breadth(root, step.root), glyphs.word_breadth(low, step.bass)
    upper = glyphs.word_breadth(sign, step.sign) + glyphs.word_breadth(quality, step.quality)
    upper += glyphs.gap(step.quality) if sign and quality else 0
    parts = [first, upper, bass] if step.aside else [first, max(upper, bass)]
    return sum(parts) + step.space * (sum(part > 0 for part in parts) - 1)


def _joined(left: Bitmap, right: Bitmap, gap: int) -> Bitmap:
    """Put two bitmaps side by side, their tops in line."""
    if not glyphs.breadth(left) or not glyphs.breadth(right):
        return left if glyphs.breadth(left) else right
    high = max(len(left), len(right))
    space = (0,) * gap
    lines = []
    for y in range(high):
        first = left[y] if y < len(left) else (0,) * glyphs.breadth(left)
        lines.append(first + space + (right[y] if y < len(right) else (0,) * glyphs.breadth(right)))
    return tuple(lines)


def _composed(step: _Step, root: str, upper: tuple[str, str], low: str) -> Bitmap:
    """Put root, upper right and lower right together, as high as the highest needs."""
    first, bass = glyphs.word(root, step.root), glyphs.word(low, step.bass)
    right = _joined(glyphs.word(upper[0], step.sign), glyphs.word(upper[1], step.quality), glyphs.gap(step.quality))
    if step.aside:
        first, right = _joined(first, right, step.space), ()
    wide = glyphs.breadth(first)
    total = max(len(first), (len(right) if glyphs.breadth(right) else 0) + (len(bass) + 1 if low else 0))
    if step.aside:
        total = max(len(first), len(bass))
    more = max(glyphs.breadth(right), glyphs.breadth(bass))
    canvas = [[0] * (wide + (step.space + more if more else 0)) for _ in range(total)]
    for part, x, y in ((first, 0, 0), (right, wide + step.space, 0), (bass, wide + step.space, total - len(bass))):
        if glyphs.breadth(part):
            for down, line in enumerate(part):
                canvas[y + down][x : x + len(line)] = line
    return tuple(tuple(line) for line in canvas)


def _framed(bitmap: Bitmap, width: int, height: int, role: str, centre: bool = False) -> tuple[tuple[Cell, ...], ...]:
    """Return a bitmap as half blocks in the middle of exactly `width` x `height` cells."""
    return _placed(half_blocks(bitmap, role), width, height, role, centre)


def _placed(rows: Rows, width: int, height: int, role: str, centre: bool = False) -> tuple[tuple[Cell, ...], ...]:
    above = max(0, (height - len(rows)) // 2)
    left = max(0, (width - len(rows[0])) // 2) if centre and rows else 0
    empty: Cell = (" ", role)
    body = [([empty] * left + row + [empty] * width)[:width] for row in rows[:height]]
    lines = [[empty] * width] * above + body
    return tuple(tuple(line) for line in lines + [[empty] * width] * (height - len(lines)))


def words_rows(text: str, width: int, height: int, role: str, align: str = "left") -> Rows:
    """Return cue words or a section's name in capitals five pixels high (three rows), enlarged when there is room.

    Too long a text gets letters half as wide, then ends in two dots. Letters that nobody drew, or a panel under three
    rows, make it plain text.
    """
    if width <= 0 or height <= 0:
        return blank(width, height)
    return [list(row) for row in _words(safe(text).strip(), width, height, role, align == "centre")]


@lru_cache(maxsize=512)
def _words(text: str, width: int, height: int, role: str, centre: bool) -> tuple[tuple[Cell, ...], ...]:
    capitals = _capitals(text)
    if height >= 3 and width >= 5 and all(glyphs.known(char) for char in capitals):
        factor = min(2 * height // 5, width // max(1, glyphs.breadth(glyphs.plain(capitals))))
        if factor:
            return _framed(glyphs.plain(capitals, factor), width, height, role, centre)
        slim = quarter_blocks(glyphs.plain(_shortened(capitals, 2 * width)), role)
        return _placed(slim, width, height, role, centre)
    rows = blank(width, height, role)
    rows[(height - 1) // 2] = text_row(text, width, role, "centre" if centre else "left")
    return tuple(tuple(row) for row in rows)


def _capitals(text: str) -> str:
    """Return capitals without marks that the letters lack: Café becomes CAFE."""
    bare = [char for char in unicodedata.normalize("NFKD", text.upper()) if not unicodedata.combining(char)]
    return "".join(bare).translate({0x2014: "–", 0x2019: "'", 0x2018: "'", 0x201C: '"', 0x201D: '"'})


def _shortened(capitals: str, width: int) -> str:
    """Return as many letters as fit in `width` pixels; two dots tell that some are missing."""
    if glyphs.breadth(glyphs.plain(capitals)) <= width:
        return capitals
    kept = capitals
    while kept and glyphs.breadth(glyphs.plain(kept + "..")) > width:
        kept = kept[:-1]
    return kept.rstrip() + ".."
