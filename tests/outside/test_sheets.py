"""Printed sheets of real songs, kept outside the repository: nearly all stand on one page, in letters to be read."""

import json
from fractions import Fraction
from pathlib import Path

import pytest

from engine.exchange.sheets.cue_sheet import FOOT, SHIFTS, best, shifts_height
from engine.exchange.sheets.grid import fits
from engine.exchange.sheets.paper import SMALLEST, Paper
from engine.song.model import Bar, Event, Section, Song
from engine.theory.meter import meter

FILES = sorted((Path(__file__).parents[3] / "shared" / "reference").glob("progressions_*.json"))

HEAD = 52.0
"""Millimetres of a head with all its remarks and a roadmap of one row."""


def bars(song) -> tuple[Bar, ...]:
    """Cut a run of chords into bars: a chord that crosses a bar line is written again after it."""
    measure = meter(song["time"])
    found, events, at = [], [], Fraction(0)
    for symbol, quarters in song["chords"]:
        left = Fraction(quarters).limit_denominator(96) / measure.beat_quarters
        while left > 0:
            part = min(left, measure.beats - at)
            events.append(Event(at + 1, part, symbol, None))
            at, left = at + part, left - part
            if at == measure.beats:
                found.append(Bar(measure, tuple(events)))
                events, at = [], Fraction(0)
    return tuple(found)


def songs() -> list[Song]:
    data = [song for file in FILES for song in json.loads(file.read_text(encoding="utf-8"))["songs"] if song["time"]]
    return [
        Song(
            one["title"],
            one["key"] or "C",
            meter(one["time"]),
            120.0,
            roadmap=("All",),
            sections=(Section("All", found),),
        )
        for one in data
        if (found := bars(one))
    ]


@pytest.mark.skipif(not FILES, reason="the reference progressions are not beside this repository")
@pytest.mark.parametrize("size", ["a4", "letter"])
def test_nineteen_in_twenty_songs_stand_on_one_page_in_ten_points_or_more(size):
    paper = Paper(size)
    paper.turn()
    room = paper.bottom - FOOT - shifts_height(SHIFTS) - paper.left - HEAD
    good, found = 0, songs()
    for song in found:
        chosen, lines, between = best(paper, song, room)
        height = sum(line.height + between for line in lines)
        good += chosen.points >= SMALLEST and height <= room + 0.1 and fits(lines, chosen, paper.measure)
    assert good >= 0.95 * len(found) > 90
