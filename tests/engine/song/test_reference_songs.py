"""A hundred real progressions, kept outside the repository, written as song files and read again (skipped without)."""

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from songs import music

from engine.errors import SymbolError
from engine.song.model import Bar, Event, Section, Song
from engine.song.reader import read_song
from engine.song.transposing import transpose
from engine.song.unfolding import unfold
from engine.song.words import Wording, reader_of
from engine.song.writer import write_song
from engine.theory.key import read_key
from engine.theory.meter import meter

FILES = sorted((Path(__file__).parents[4] / "shared" / "reference").glob("progressions_*.json"))
read = reader_of(Wording())


def bars(song: dict[str, Any]) -> tuple[Bar, ...]:
    """Cut a run of chords into bars: a chord that crosses a bar line is written again after it."""
    measure = meter(song["time"])
    found: list[Bar] = []
    events: list[Event] = []
    at = Fraction(0)
    for word, quarters in song["chords"]:
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


def songs() -> list[Song]:
    read_songs = [song for file in FILES for song in json.loads(file.read_text(encoding="utf-8"))["songs"]]
    return [
        Song(
            song["title"],
            song["key"] or "C",
            meter(song["time"]),
            120.0,
            roadmap=("All",),
            sections=(Section("All", found),),
        )
        for song in read_songs
        if song["time"] and (found := bars(song))
    ]


@pytest.mark.skipif(not FILES, reason="the reference progressions are not beside this repository")
def test_every_reference_song_survives_being_written_and_read() -> None:
    found = songs()
    assert len(found) >= 90
    for song in found:
        again = read_song(write_song(song), "")
        assert music(again) == song
        assert sum(step.beats for step in unfold(again)) == len(song.sections[0].bars) * song.meter.beats


KEYS = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")


@pytest.mark.skipif(not FILES, reason="the reference progressions are not beside this repository")
def test_every_reference_song_keeps_its_degrees_in_twelve_keys() -> None:
    for song in songs():
        chords = [step.chord for step in unfold(song)]
        for key in KEYS:
            moved = transpose(song, key)
            semitones = (read_key(moved.key).tonic.pc - read_key(song.key).tonic.pc) % 12
            for old, new in zip(chords, (step.chord for step in unfold(moved)), strict=True):
                assert (old and old.degrees) == (new and new.degrees)
                assert not old or not new or (new.bass.pc - old.bass.pc) % 12 == semitones
                assert not new or max(abs(new.root.accidental), abs(new.bass.accidental)) <= 1
