"""The patterns of a left hand in notation agree with the plan and with what the MIDI file plays."""

import io
from fractions import Fraction
from xml.etree.ElementTree import fromstring

import mido
import pytest

from engine.comp_names import LEFT_HAND_NAMES
from engine.formats.midi_file import midi_file
from engine.formats.midi_ticks import TICKS
from engine.formats.musicxml_out.left_hand import left_strokes
from engine.formats.musicxml_out.writer import musicxml
from engine.planning.model import Plan
from engine.planning.planner import plan
from engine.song.model import Song
from engine.song.reader import read_song
from engine.song.unfolding import unfold

METERS = {
    "4/4": "| C | Am7 D7 | G7 / / C7 | F(hold) |",
    "3/4": "| C | Am7 | D7 / G7 | C(ring) |",
    "6/8": "| C | Am7 D7 | G7 | C |",
}


def planned(pattern: str, meter: str) -> tuple[Song, Plan]:
    text = f'title = "Pier"\nkey = "C"\nmeter = "{meter}"\ntempo = 100\n[sections.A]\nleft_hand = "{pattern}"\n'
    song = read_song(f'{text}bars = "{METERS[meter]}"\n', "")
    return song, plan(unfold(song))


def written(song: Song, found: Plan) -> dict[Fraction, set[int]]:
    """The keys of the lower staff by when they are struck, in quarters."""
    score = fromstring(musicxml(song, found).split(b"?>", 1)[1])
    divisions = int(score.findtext(".//divisions"))
    names = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
    struck: dict[Fraction, set[int]] = {}
    at = start = 0
    for note in (note for note in score.iter("note") if note.findtext("staff") == "2"):
        at = start if note.find("chord") is not None else at
        start, pitch = at, note.find("pitch")
        if pitch is not None and note.find("tie[@type='stop']") is None:
            key = 12 * (int(pitch.findtext("octave")) + 1) + names[pitch.findtext("step")]
            struck.setdefault(Fraction(at, divisions), set()).add(key + int(pitch.findtext("alter", "0")))
        at += int(note.findtext("duration"))
    return struck


@pytest.mark.parametrize("meter", METERS)
@pytest.mark.parametrize("pattern", LEFT_HAND_NAMES)
def test_a_pattern_is_written_as_the_midi_file_plays_it(pattern, meter):
    song, found = planned(pattern, meter)
    assert any(one.strokes for one in found.steps)
    file = mido.MidiFile(file=io.BytesIO(midi_file(song, found)))
    played: dict[Fraction, set[int]] = {}
    at = 0
    for message in next(track for track in file.tracks if track.name == "Left hand"):
        at += message.time
        if message.type == "note_on":
            played.setdefault(Fraction(at, TICKS).limit_denominator(96), set()).add(message.note)
    assert written(song, found) == played


@pytest.mark.parametrize("meter", METERS)
@pytest.mark.parametrize("pattern", LEFT_HAND_NAMES)
def test_strokes_and_rests_last_as_long_as_their_chord(pattern, meter):
    for one in planned(pattern, meter)[1].steps:
        assert sum(quarters for _, quarters in left_strokes(one)) == one.step.beats * one.step.meter.beat_quarters


def test_a_held_chord_is_written_once():
    steps = planned("stride", "4/4")[1].steps
    assert [quarters for _, quarters in left_strokes(steps[-1])] == [4]


def test_eighths_of_a_beat_are_beamed_together():
    score = fromstring(musicxml(*planned("1-5-8", "6/8")).split(b"?>", 1)[1])
    first = next(score.iter("measure"))
    beams = [note.findtext("beam") for note in first.iter("note") if note.findtext("staff") == "2"]
    assert beams == ["begin", "continue", "end"] * 2
