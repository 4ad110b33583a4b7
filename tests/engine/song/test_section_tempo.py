"""Sections at a tempo of their own: counted, played, written, printed, and slower or faster with the song."""

import io
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import mido
import pytest

from engine.errors import ChartError
from engine.formats.midi_file import midi_file
from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.formats.musicxml_out.writer import musicxml
from engine.formats.plain_text import cue_text
from engine.formats.sheets.cue_sheet import Sheet
from engine.performance.play_along import Ride, play_along
from engine.planning.model import Plan, Request
from engine.planning.planner import plan
from engine.practice.difficulty import available
from engine.song.length import seconds
from engine.song.reader import read_song
from engine.song.section_tempo import tempo_of
from engine.song.unfolding import unfold
from engine.song.writing import write_song

TEXT = """\
title  = "Half Tide"
key    = "C"
meter  = "4/4"
tempo  = 120

[sections.Verse]
bars = "| C | F | G | C |"

[sections.Slow]
tempo = 60
bars = "| Am | F | G | C |"
"""
SONG = read_song(TEXT, "")


@pytest.fixture(scope="module")
def planned() -> Plan:
    return plan(unfold(SONG), Request())


def test_a_section_says_its_tempo():
    assert [section.pace for section in SONG.sections] == [1, Fraction(1, 2)]
    assert [tempo_of(SONG, section) for section in SONG.sections] == [120, 60]


def test_what_is_written_is_read_again():
    assert write_song(read_song(write_song(SONG), "")) == write_song(SONG)
    assert "tempo = 60" in write_song(SONG)


@pytest.mark.parametrize("tempo", ["92", "66.6", "141.25"])
def test_odd_tempos_are_kept_to_the_letter(tempo):
    song = read_song(TEXT.replace("tempo = 60", f"tempo = {tempo}").replace("= 120", "= 97.3"), "")
    assert f"tempo = {tempo}" in write_song(song)


def test_a_tempo_that_is_none_is_a_fault_in_its_line():
    with pytest.raises(ChartError, match="tempo is 5"):
        read_song(TEXT.replace("tempo = 60", "tempo = 5"), "")


def test_the_length_counts_the_slow_bars_twice():
    assert seconds(SONG, unfold(SONG)) == pytest.approx(8 + 16)


def test_another_tempo_tonight_changes_both_alike():
    tonight = replace(SONG, tempo=240.0)
    assert seconds(tonight, unfold(tonight)) == pytest.approx(12)
    assert tempo_of(tonight, tonight.sections[1]) == 120


def test_the_count_and_the_beats_are_those_of_the_section(planned):
    ride = play_along(SONG, planned, Ride(first=4))
    beats = [mark.seconds for mark in ride.marks if mark.kind == "beat"]
    assert {round(after - before, 6) for before, after in pairwise(beats)} == {1.0}
    whole = play_along(SONG, planned, Ride())
    assert whole.seconds == pytest.approx(24 + 4 * 0.5 * (1 if SONG.count == "one bar" else 2))


def test_a_midi_file_has_the_change(planned):
    file = mido.MidiFile(file=io.BytesIO(midi_file(SONG, planned)))
    assert [message.tempo for message in file.tracks[0] if message.type == "set_tempo"] == [500_000, 1_000_000]
    assert file.length == pytest.approx(24, abs=0.05)


def test_a_score_carries_it_there_and_back(planned):
    found = song_from_musicxml(musicxml(SONG, planned)).song
    assert [(section.name, section.pace) for section in found.sections] == [("Verse", 1), ("Slow", Fraction(1, 2))]


def test_the_printed_sheet_says_it():
    assert "Slow (tempo 60)" in cue_text(Sheet(SONG, None))


def test_the_hands_have_twice_the_time():
    steps = unfold(SONG)
    assert available(steps[5], steps[6], 120) == 2 * available(steps[1], steps[2], 120)
