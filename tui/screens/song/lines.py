"""What the song's page can set: a line each, with the values that it goes through."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.comp_names import COMP_NAMES
from engine.hand.keyboard import WHITE
from engine.song.groove import HELD
from engine.song.header import VOICING
from engine.song.model import Song
from engine.song.whose_tune import WHOSE

WORDS = {
    "method": "voicings", "texture": "texture", "hands": "hands", "sound": "voiced for", "colour": "tensions added",
    "comp": "comping rhythm", "tune_is": "the tune is",
}  # fmt: skip

WIDE = 17
"""Columns of the words of a line."""

SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Line:
    """A row: what it sets, by the name of the value; its words; the value in words; how long a change of it holds."""

    name: str
    words: str
    value: str
    holds: str


def choices(name: str, rhythms: Sequence[str]) -> tuple[str, ...]:
    """Return the values that a line goes through; `rhythms` are the player's own, by name."""
    if name == "comp":
        return (HELD, *COMP_NAMES, *rhythms)
    return WHOSE if name == "tune_is" else VOICING[name]


def value(song: Song, name: str) -> str:
    """Return a song's value as one of the choices of its line."""
    return str(getattr(song, name)) or HELD


def following(now: str, values: Sequence[str], direction: int) -> str:
    """Return the value after one, or before it; the first where it is none of them."""
    return values[(values.index(now) + direction) % len(values)] if now in values else values[0]


def song_lines(song: Song, own: Sequence[str]) -> list[Line]:
    """Return the lines of what is decided for the song; `own` are the same values as the song's own file has them."""
    files = dict(zip(WORDS, own, strict=False))
    return [
        Line(name, words, value(song, name), _holds(value(song, name), files.get(name)))
        for name, words in WORDS.items()
    ]


def _holds(now: str, own: str | None) -> str:
    own = HELD if own == "" else own
    return "" if own is None or now == own else f"tonight; its own file has {own}"


def reach_words(millimetres: float) -> str:
    """Return a reach in millimetres and in white keys: 212 mm, 10 white keys (C to E)."""
    keys = int(millimetres / WHITE + 1e-6) + 1
    return f"{millimetres:.0f} mm: {keys} white keys, C to {'CDEFGAB'[(keys - 1) % 7]}"
