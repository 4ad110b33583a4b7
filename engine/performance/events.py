"""Notes in seconds, and the MIDI bytes they become.

Channels count from 1 to 16, as on the front of a synthesizer; keys are MIDI numbers.
Source of the bytes: MIDI 1.0 Detailed Specification (MIDI Association), channel voice messages.
"""

from dataclasses import dataclass

Timed = tuple[float, bytes]
"""One MIDI message and when it is due, in seconds from the start."""

RELEASE = 64
"""Release velocity of a keyboard without a release sensor. Source: MIDI 1.0 Detailed Specification, note-off."""


@dataclass(frozen=True, slots=True, order=True)
class Note:
    """One sounding note: it starts at `seconds` and sounds for `lasts` seconds (0 is allowed)."""

    seconds: float
    key: int
    lasts: float
    velocity: int = 80
    channel: int = 1

    def __post_init__(self) -> None:
        if not (self.seconds >= 0 and self.lasts >= 0):
            raise ValueError(f"a note starts and lasts 0 seconds or more: {self.seconds}, {self.lasts}")
        if not (0 <= self.key <= 127 and 1 <= self.velocity <= 127 and 1 <= self.channel <= 16):
            raise ValueError(f"not a MIDI note: key {self.key}, velocity {self.velocity}, channel {self.channel}")

    @property
    def ends(self) -> float:
        """When it ends, in seconds."""
        return self.seconds + self.lasts


def note_on(key: int, velocity: int = 80, channel: int = 1) -> bytes:
    """Return a note-on message."""
    return bytes((0x90 | channel - 1, key, velocity))


def note_off(key: int, channel: int = 1) -> bytes:
    """Return a note-off message."""
    return bytes((0x80 | channel - 1, key, RELEASE))


def control(number: int, value: int, channel: int = 1) -> bytes:
    """Return a control change; `number` and `value` from 0 to 127."""
    return bytes((0xB0 | channel - 1, number, value))


def program(number: int, channel: int = 1) -> bytes:
    """Return a program change: `number` from 0 (General MIDI's printed lists count from 1)."""
    return bytes((0xC0 | channel - 1, number))


def in_order(*streams: tuple[Timed, ...]) -> tuple[Timed, ...]:
    """Return several streams as one; at the same moment the stream named first goes first."""
    return tuple(sorted((message for stream in streams for message in stream), key=lambda message: message[0]))


def wire(notes: tuple[Note, ...]) -> tuple[Timed, ...]:
    """Return the messages in the order they are sent: at one moment note-offs go before note-ons.

    A key struck again while it sounds is released at that moment, so that every note-on has its own note-off.
    Of two notes on one key at the same moment the longer one stands. A chord leaves low notes first: on a DIN cable
    each message of three bytes takes 0.96 ms (31 250 baud, ten bits a byte: MIDI 1.0), so the bass is the one in time.
    """
    messages: list[tuple[float, int, bytes]] = []
    voices: dict[tuple[int, int], dict[float, Note]] = {}
    for note in sorted(notes, key=lambda note: (note.seconds, note.lasts)):
        voices.setdefault((note.channel, note.key), {})[note.seconds] = note
    for struck in voices.values():
        line = list(struck.values())
        following = [note.seconds for note in line[1:]] + [float("inf")]
        for note, again in zip(line, following, strict=True):
            # A note of no length keeps its order: its note-off may not overtake its own note-on.
            messages.append((note.seconds, 1, note_on(note.key, note.velocity, note.channel)))
            messages.append((min(note.ends, again), 0 if note.lasts else 2, note_off(note.key, note.channel)))
    return tuple((seconds, data) for seconds, _, data in sorted(messages))
