"""What a synthesizer would still be sounding after a stream of messages."""

from collections.abc import Iterable

ALL_SOUND_OFF, ALL_NOTES_OFF, SUSTAIN = 120, 123, 64


def still_sounding(messages: Iterable[bytes]) -> set[tuple[int, int]]:
    """Return (channel from 0, key) of the notes on, or caught by the pedal, after all messages."""
    down: set[tuple[int, int]] = set()
    caught: set[tuple[int, int]] = set()
    pedals: set[int] = set()
    for data in messages:
        kind, channel = data[0] & 0xF0, data[0] & 0x0F
        if kind == 0x90 and data[2]:
            down.add((channel, data[1]))
        elif kind in (0x80, 0x90):
            if channel in pedals and (channel, data[1]) in down:
                caught.add((channel, data[1]))
            down.discard((channel, data[1]))
        elif kind == 0xB0 and data[1] in (ALL_SOUND_OFF, ALL_NOTES_OFF):
            down = {note for note in down if note[0] != channel}
            caught = {note for note in caught if note[0] != channel}
        elif kind == 0xB0 and data[1] == SUSTAIN and data[2] >= 64:
            pedals.add(channel)
        elif kind == 0xB0 and data[1] == SUSTAIN:
            pedals.discard(channel)
            caught = {note for note in caught if note[0] != channel}
    return down | caught
