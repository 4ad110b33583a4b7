"""A MIDI file byte by byte, after Standard MIDI Files 1.0 (MIDI Association, RP-001), by a small reader of its own."""

import pytest

from engine.formats.midi_file import midi_file
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold

Event = tuple[int, bytes]
"""Ticks from the start of the track, the bytes of a message with its status."""


@pytest.fixture(scope="module")
def data() -> bytes:
    song = song_from_chart("| Ebmaj7 | Abmaj7 / Bb7 | Cm7 | N.C. |", key="Eb", meter="3/4", tempo=97.0)
    return midi_file(song, plan(unfold(song)), counted=True)


def number(data: bytes, at: int) -> tuple[int, int]:
    """Read a number of variable length (seven bits a byte, the last one below 128): value, where it ends."""
    value = data[at] & 127
    while data[at] & 128:
        at += 1
        value = value << 7 | data[at] & 127
    return value, at + 1


def chunks(data: bytes) -> list[tuple[bytes, bytes]]:
    """Return the chunks: four letters, then four bytes of length, high byte first."""
    found, at = [], 0
    while at < len(data):
        size = int.from_bytes(data[at + 4 : at + 8], "big")
        found.append((data[at : at + 4], data[at + 8 : at + 8 + size]))
        assert len(found[-1][1]) == size, "a chunk says more than it holds"
        at += 8 + size
    return found


def events(track: bytes) -> list[Event]:
    """Return the events of a track, running status written out."""
    found: list[Event] = []
    at = ticks = status = 0
    while at < len(track):
        wait, at = number(track, at)
        ticks += wait
        if track[at] >= 0x80:
            status, at = track[at], at + 1
        assert status >= 0x80, "data before any status"
        start = at
        if status in (0xFF, 0xF0, 0xF7):
            size, at = number(track, at + (status == 0xFF))
            at += size
        else:
            at += 1 if status & 0xF0 in (0xC0, 0xD0) else 2
        found.append((ticks, bytes([status]) + track[start:at]))
        status = 0 if status >= 0xF0 else status
    return found


def tracks(data: bytes) -> list[list[Event]]:
    return [events(body) for name, body in chunks(data) if name == b"MTrk"]


def test_the_header_says_several_tracks_and_ticks_a_quarter(data: bytes) -> None:
    name, head = chunks(data)[0]
    kind, count, division = (int.from_bytes(head[at : at + 2], "big") for at in (0, 2, 4))
    assert (name, len(head), kind) == (b"MThd", 6, 1)
    assert count == len(tracks(data))
    assert 0 < division < 0x8000, "the top bit would mean frames of film"


def test_every_track_ends_once_and_at_its_end(data: bytes) -> None:
    for track in tracks(data):
        ends = [message for _, message in track if message[:2] == b"\xff\x2f"]
        assert ends == [b"\xff\x2f\x00"]
        assert track[-1][1] == ends[0]


def test_tempo_meter_and_key_are_as_the_standard_writes_them(data: bytes) -> None:
    first = [message for ticks, message in tracks(data)[0] if ticks == 0]
    assert b"\xff\x51\x03" + round(60e6 / 97).to_bytes(3, "big") in first
    # 3/4: the lower number as a power of two, 24 clocks a click, 8 thirty-seconds a quarter.
    assert any(message.startswith(b"\xff\x58\x04\x03\x02") and message.endswith(b"\x08") for message in first)
    assert b"\xff\x59\x02\xfd\x00" in first, "three flats, major"


def test_every_note_that_begins_ends_and_all_data_have_seven_bits(data: bytes) -> None:
    for track in tracks(data):
        down: set[tuple[int, int]] = set()
        for _, message in track:
            if message[0] >= 0xF0:
                continue
            assert all(byte < 0x80 for byte in message[1:])
            note = (message[0] & 15, message[1])
            if message[0] & 0xF0 == 0x90 and message[2]:
                assert note not in down, "struck while it sounds"
                down.add(note)
            elif message[0] & 0xF0 in (0x80, 0x90):
                down.discard(note)
        assert not down


def test_clicks_are_on_channel_ten_and_hands_are_not(data: bytes) -> None:
    # General MIDI level 1: channel 10 is percussion.
    channels = [{message[0] & 15 for _, message in track if message[0] & 0xF0 == 0x90} for track in tracks(data)]
    assert {9} in channels
    assert all(len(used) <= 1 for used in channels)


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("00", 0),
        ("7f", 127),
        ("8100", 128),
        ("c000", 8192),
        ("ff7f", 16383),
        ("818000", 16384),
        ("ffffff7f", 268435455),
    ],
)
def test_this_reader_knows_the_standards_own_examples_of_numbers(written: str, value: int) -> None:
    assert number(bytes.fromhex(written), 0) == (value, len(written) // 2)
