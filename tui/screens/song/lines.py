"""What the song's page can set: a line each, with the values that it goes through."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TypeVar

from engine.comp_names import COMP_NAMES, HELD
from engine.hand.keyboard import WHITE
from engine.song.groove import LEFT_HAND_CHOICES
from engine.song.header import BASS_CHOICES, VOICING
from engine.song.model import MANNER, Section, SetList, Song
from engine.song.parts import BASS, PART_KEYS, parts_of
from engine.song.set_list import HORNS as KEYS
from engine.song.whose_tune import WHOSE
from tui.session.band import BAND
from tui.widgets.lettering import pretty

WORDS = {
    "method": "voicings", "texture": "texture", "hands": "hands", "sound": "voiced for", "bass": "bass player",
    "colour": "tensions added", "comp": "comping rhythm", "left_hand": "left hand",
    "tune_is": "the tune is",
}  # fmt: skip

WIDE = 17
"""Columns of the words of a line."""

WHOLE = ""
"""In place of a section: the whole song."""

Value = TypeVar("Value")

HORNS = tuple(section for size in range(len(KEYS) + 1) for section in combinations(KEYS, size))
"""The sections of horns that the page goes through, by the keys they read in."""

SIDES = ("left", "right")

OF_SET = "set "
"""Before the name of a line that holds for the whole set."""


@dataclass(frozen=True, slots=True)
class Line:
    """A row: what it sets, by the name of the value; its words; the value in words; how long a change of it holds."""

    name: str
    words: str
    value: str
    holds: str


def choices(name: str, rhythms: Sequence[str], part: str = WHOLE) -> tuple[str, ...]:
    """Return the values that a line goes through, for a section "" (as the song is) before them; `rhythms` are the
    player's own, by name."""
    if name == "bass":
        return BASS_CHOICES if part == WHOLE else ("", *(said for said in BASS if said))
    words = {"comp": (HELD, *COMP_NAMES, *rhythms), "left_hand": LEFT_HAND_CHOICES, "tune_is": WHOSE}
    found = words[name] if name in words else VOICING[name]
    return found if part == WHOLE else ("", *found)


def value(song: Song, name: str, part: str = WHOLE) -> str:
    """Return a song's value, or a section's ("" where that is the song's), as one of the choices of its line."""
    if part != WHOLE:
        return section_of(song, part).manner.get(name, "")
    return str(getattr(song, name)) or HELD


def section_of(song: Song, part: str) -> Section:
    """Return a section by its name; there must be one."""
    return next(section for section in song.sections if section.name == part)


def following(now: Value, values: Sequence[Value], direction: int) -> Value:
    """Return the value after one, or before it; the first where it is none of them."""
    return values[(values.index(now) + direction) % len(values)] if now in values else values[0]


def part_line(part: str, song: Song) -> Line:
    """Return the line that says for what the others hold: the whole song or one section."""
    return Line("part", "set for", part or "the whole song", f"or one of {len(song.sections)} sections")


def song_lines(song: Song, own: Sequence[str], set_list: SetList) -> list[Line]:
    """Return the lines of what is decided for the song; `own` are the same values as the song's own file has them."""
    files = dict(zip(MANNER, own, strict=False))
    lines = []
    for name, words in WORDS.items():
        now = value(song, name)
        said = f"as the set: {_yes(set_list.bass)}" if now == BASS_CHOICES[0] else now
        lines.append(Line(name, words, said, _holds(now, files.get(name))))
    return lines


def section_lines(song: Song, part: str, own: Sequence[str], set_list: SetList) -> list[Line]:
    """Return the lines of what is decided for one section."""
    files = parts_of(dict(zip(MANNER, own, strict=False)).get("parts", "")).get(part, {})
    whole = {line.name: line.value for line in song_lines(song, (), set_list)}
    lines = []
    for name in (name for name in WORDS if name in PART_KEYS):
        now, there = value(song, name, part), files.get(name, "")
        holds = "" if now == there else f"tonight; its own file has {there or 'as the song'}"
        lines.append(Line(name, WORDS[name], now or f"as the song: {whole[name].removeprefix('as the set: ')}", holds))
    return lines


def _holds(now: str, own: str | None) -> str:
    own = HELD if own == "" else own
    return "" if own is None or now == own else f"tonight; its own file has {own}"


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def band_lines(set_list: SetList) -> list[Line]:
    """Return the lines of who plays along, the same for every song of the set."""
    values = _yes(set_list.bass), _yes(set_list.guitar), ", ".join(map(pretty, set_list.horns)) or "none"
    words = {"bass": "bass in the set", "guitar": "guitarist", "horns": "horns in"}
    return [Line(f"{OF_SET}{name}", words[name], value, "whole set") for name, value in zip(BAND, values, strict=True)]


def reach_words(millimetres: float) -> str:
    """Return a reach in millimetres and in white keys: 212 mm, 10 white keys (C to E)."""
    keys = int(millimetres / WHITE + 1e-6) + 1
    return f"{millimetres:.0f} mm: {keys} white keys, C to {'CDEFGAB'[(keys - 1) % 7]}"
