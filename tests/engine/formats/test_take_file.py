"""What was played lies in the file where it was played, and bars lie where the song had them.

Read back with mido, a general MIDI file library.
"""

import io

import pytest
from mido import MidiFile

from engine.formats.midi_ticks import TICKS
from engine.formats.take_file import take_file
from engine.performance.events import control, note_off, note_on
from engine.song.model import Song
from engine.theory.meter import Meter

SONG = Song("Tide \u2013 Löwe", "Eb", Meter(4, 4), 120.0)
PLAYED = ((10.0, note_on(60, 90)), (10.2, control(64, 127)), (10.5, note_off(60)), (11.0, control(64, 0)))


def read(content: bytes) -> tuple[list[tuple[int, bytes]], MidiFile]:
    file = MidiFile(file=io.BytesIO(content))
    (track,) = file.tracks
    at, found = 0, []
    for message in track:
        at += message.time
        if not message.is_meta:
            found.append((at, bytes(message.bytes())))
    return found, file


def test_every_message_is_there_at_its_time():
    found, file = read(take_file(PLAYED, SONG))
    assert [data for _, data in found] == [data for _, data in PLAYED]
    # At 120 a quarter lasts half a second.
    assert [tick for tick, _ in found] == [round((at - 10.0) * 2 * TICKS) for at, _ in PLAYED]
    assert file.type == 0


def test_tempo_meter_key_and_title_are_the_songs():
    _, file = read(take_file(PLAYED, SONG))
    facts = {message.type: message for message in file.tracks[0] if message.is_meta}
    assert facts["set_tempo"].tempo == 500_000
    assert (facts["time_signature"].numerator, facts["time_signature"].denominator) == (4, 4)
    assert facts["key_signature"].key == "Eb"
    assert facts["track_name"].name.isascii()


@pytest.mark.parametrize("downbeat", [6.0, 9.0, 11.0, 13.0])
def test_a_bar_of_the_song_is_a_bar_of_the_file(downbeat):
    found, _ = read(take_file(PLAYED, SONG, downbeat))
    bar = 4 * TICKS
    begins = 10.0 - found[0][0] / TICKS / 2
    assert begins <= 10.0
    assert (round((downbeat - begins) * 2 * TICKS)) % bar == 0
    assert found[0][0] < bar


def test_six_eight_counts_dotted_quarters():
    found, file = read(take_file(PLAYED, Song("Six", "C", Meter(6, 8), 60.0)))
    tempo = next(message.tempo for message in file.tracks[0] if message.type == "set_tempo")
    assert tempo == pytest.approx(1_000_000 * 2 / 3, abs=1)
    assert found[2][0] == round(0.5 * 1.5 * TICKS)


def test_without_a_song_it_is_a_take():
    found, file = read(take_file(PLAYED, None))
    assert found[0][0] == 0
    assert next(message.name for message in file.tracks[0] if message.type == "track_name") == "Take"
