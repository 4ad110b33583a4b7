"""What the song's page can set: a line each, with the values that it goes through."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TypeVar

from engine.comp_names import COMP_NAMES, HELD
from engine.hand.keyboard import WHITE
from engine.song.groove import LEFT_HAND_CHOICES
from engine.song.header import VOICING
from engine.song.model import MANNER, SetList, Song
from engine.song.set_list import HORNS as KEYS
from engine.song.whose_tune import WHOSE
from tui.session.band import BAND
from tui.widgets.lettering import pretty

WORDS = {
    "method": "voicings", "texture": "texture", "hands": "hands", "sound": "voiced for", "colour": "tensions added",
    "comp": "comping rhythm", "left_hand": "left hand", "tune_is": "the tune is",
}  # fmt: skip

WIDE = 17
"""Columns of the words of a line."""

Value = TypeVar("Value")

HORNS = tuple(section for size in range(len(KEYS) + 1) for section in combinations(KEYS, size))
"""The sections of horns that the page goes through, by the keys they read in."""

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
    if name == "left_hand":
        return LEFT_HAND_CHOICES
    if name == "comp":
        return (HELD, *COMP_NAMES, *rhythms)
    return WHOSE if name == "tune_is" else VOICING[name]


def value(song: Song, name: str) -> str:
    """Return a song's value as one of the choices of its line."""
    return str(getattr(song, name)) or HELD


def following(now: Value, values: Sequence[Value], direction: int) -> Value:
    """Return the value after one, or before it; the first where it is none of them."""
    return values[(values.index(now) + direction) % len(values)] if now in values else values[0]


def song_lines(song: Song, own: Sequence[str]) -> list[Line]:
    """Return the lines of what is decided for the song; `own` are the same values as the song's own file has them."""
    files = dict(zip(MANNER, own, strict=False))
    return [
        Line(name, words, value(song, name), _holds(value(song, name), files.get(name)))
        for name, words in WORDS.items()
    ]


def _holds(now: str, own: str | None) -> str:
    own = HELD if own == "" else own
    return "" if own is None or now == own else f"tonight; its own file has {own}"


def band_lines(set_list: SetList) -> list[Line]:
    """Return the lines of who plays along, the same for every song of the set."""
    yes = {True: "yes", False: "no"}
    values = yes[set_list.bass], yes[set_list.guitar], ", ".join(map(pretty, set_list.horns)) or "none"
    words = {"bass": "bass player", "guitar": "guitarist", "horns": "horns in"}
    return [Line(name, words[name], value, "whole set") for name, value in zip(BAND, values, strict=True)]


def reach_words(millimetres: float) -> str:
    """Return a reach in millimetres and in white keys: 212 mm, 10 white keys (C to E)."""
    keys = int(millimetres / WHITE + 1e-6) + 1
    return f"{millimetres:.0f} mm: {keys} white keys, C to {'CDEFGAB'[(keys - 1) % 7]}"
