"""Bands of a picture: rows drawn once and kept, so that a step redraws only what it changes."""

from functools import lru_cache

from rich.cells import cell_len

from tui.widgets.cells import Cell, Row, Rows, in_ascii_rows, text_row

Band = tuple[tuple[Cell, ...], ...]

TITLE_KEPT = 16
"""Columns that a long title keeps beside key and tempo."""

KEPT = 256
"""Bands that are remembered before all are forgotten (own choice)."""

_kept: dict[tuple[object, ...], tuple[tuple[object, ...], Band]] = {}


def kept(key: tuple[object, ...]) -> Band | None:
    """Return the band that was kept under a key, if it was."""
    found = _kept.get(key)
    return found[1] if found else None


def keep(key: tuple[object, ...], alive: tuple[object, ...], band: Band) -> Band:
    """Keep a band under a key with identities in it; `alive` holds what they belong to, so that none is used again."""
    if len(_kept) >= KEPT:
        _kept.clear()
    _kept[key] = (alive, band)
    return band


def frozen(rows: Rows) -> Band:
    """Return rows as a band, which nobody can draw over."""
    return tuple(tuple(row) for row in rows)


def bar_row(left: str, right: str, role: str, width: int) -> Row:
    """Return a row with words at both ends; what does not fit is cut at the right, of a typed line at the left.

    A title gives way to what stands right of it, down to its first letters.
    """
    if left.endswith("_") and cell_len(left) > width - 2:
        left = "…" + left[3 - width :]
    room = width - (min(cell_len(left), TITLE_KEPT) if role == "bar" else cell_len(left)) - 3
    if right and room >= 6:
        end = text_row(f"  {right} ", min(room + 1, cell_len(right) + 3), role)
        return text_row(f" {left}", width - len(end), role) + end
    return text_row(f" {left}", width, role)


@lru_cache(maxsize=64)
def line(text: str, width: int, role: str) -> Band:
    """Return a band of one row."""
    return (tuple(text_row(f" {text}", width, role)),)


@lru_cache(maxsize=64)
def trouble_row(words: str, keys: str, width: int) -> Band:
    """Return what is wrong, and beside it the keys that there is room for: how to the help is never lost."""
    room = max(0, width - len(keys) - 3)
    return (tuple(text_row(f" ! {words}", room, "warn") + text_row(f"  {keys}", width - room, "dim")),)


def ascii_band(band: Band) -> Band:
    """Return a band in ASCII, for terminals that know no more."""
    key = ("ascii", id(band))
    return kept(key) or keep(key, (band,), frozen(in_ascii_rows([list(row) for row in band])))
