"""The song's own file as lines of a page: the values of its head, then a line a section."""

from dataclasses import dataclass

from engine.errors import ChartError
from engine.song.head_edits import CHOICES, HEAD, head_value
from engine.song.model import Section, Song
from engine.song.reader import read_song
from engine.song.writing import write_bars

WIDE = 16
"""Columns of the name of a line."""

USUAL = {"meter": "4/4", "tempo": "120", "feel": "straight", "count": "one bar", "roadmap": "the sections in order"}
"""What holds where a file does not say a value."""


@dataclass(frozen=True, slots=True)
class Line:
    """A value of the head by its name, or a section; `value` as it would be typed, `shown` as it is read."""

    name: str
    value: str
    shown: str
    section: Section | None = None


@dataclass(frozen=True, slots=True)
class Form:
    """A song's file as lines; `song` is None while it has faults, the first of them in `fault`."""

    lines: tuple[Line, ...]
    song: Song | None
    fault: str = ""


def form_of(text: str) -> Form:
    """Return the lines of a song's file."""
    try:
        song = read_song(text, "")
    except ChartError as error:
        return Form((), None, f"{error.faults[0]}")
    head = [_head(name, head_value(text, name)) for name in HEAD]
    sections = [Line(part.name, part.name, _bars(part, song), part) for part in song.sections]
    return Form((*head, *sections), song)


def _head(name: str, value: str) -> Line:
    return Line(name, value, value or f"{USUAL.get(name, '')} (usual)")


def _bars(section: Section, song: Song) -> str:
    count = len(section.bars)
    first = next(iter(write_bars(section.bars, song.meter)), "")
    return f"{count:>3} bar{'s' if count != 1 else ' '}  {first}"


def next_word(name: str, value: str, direction: int) -> str:
    """Return the word after a value's, or before it; "" where the value is not one of a few words."""
    words = CHOICES.get(name, ())
    if not words:
        return ""
    return words[(words.index(value) + direction) % len(words)] if value in words else words[0]
