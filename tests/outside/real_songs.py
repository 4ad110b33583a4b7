"""Progressions of real songs, kept beside the repository while it is developed, as songs of one section."""

import json
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from engine.errors import SymbolError
from engine.song.chord_names import Wording, reader_of
from engine.song.model import Bar, Event, Section, Song
from engine.theory.meter import meter

FILES = sorted((Path(__file__).parents[3] / "shared" / "reference").glob("progressions_*.json"))


@cache
def songs() -> tuple[Song, ...]:
    """Return the songs that have a meter and a bar or more; a symbol that cannot be read is no chord."""
    read = reader_of(Wording())
    data = [song for file in FILES for song in json.loads(file.read_text(encoding="utf-8"))["songs"] if song["time"]]
    return tuple(_song(one, found) for one in data if (found := _bars(one, read)))


def _song(data: dict[str, Any], bars: tuple[Bar, ...]) -> Song:
    key, time = data["key"] or "C", meter(data["time"])
    return Song(data["title"], key, time, 120.0, roadmap=("All",), sections=(Section("All", bars),))


def _bars(data: dict[str, Any], read: Callable[[str], tuple[str, Any]]) -> tuple[Bar, ...]:
    """Cut a run of chords into bars: a chord that crosses a bar line is written again after it."""
    measure = meter(data["time"])
    found: list[Bar] = []
    events: list[Event] = []
    at = Fraction(0)
    for word, quarters in data["chords"]:
        try:
            symbol, chord = read(word)
        except SymbolError:
            symbol, chord = "N.C.", None
        left = Fraction(quarters).limit_denominator(96) / measure.beat_quarters
        while left > 0:
            part = min(left, measure.beats - at)
            events.append(Event(at + 1, part, symbol, chord))
            at, left = at + part, left - part
            if at == measure.beats:
                found.append(Bar(measure, tuple(events)))
                events, at = [], Fraction(0)
    return tuple(found)
