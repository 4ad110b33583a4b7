"""A song in its old and its new key side by side, so that a player sees what became of every chord."""

from engine.song.model import Song
from engine.song.writing import write_bars

BARS = 2
"""Bars a line: two columns of them stay within 80 letters (own choice)."""


def side_by_side(old: Song, new: Song) -> list[str]:
    """Return lines of text: the keys, then each section's bars in both, `new` being `old` transposed."""
    rows: list[tuple[str, str]] = [(f"in {old.key}", f"in {new.key}")]
    for before, after in zip(old.sections, new.sections, strict=True):
        key = f" in {before.key}", f" in {after.key}"
        rows += [
            ("", ""),
            *([(before.name + key[0], after.name + key[1])] if before.key else [(before.name, after.name)]),
        ]
        rows += zip(write_bars(before.bars, old.meter, BARS), write_bars(after.bars, new.meter, BARS), strict=True)
    width = max(len(left) for left, _ in rows)
    return [f"{left:<{width}}   {right}".rstrip() for left, right in rows]
