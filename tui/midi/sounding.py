"""A MIDI output that knows which notes sound, and never sends after it is closed."""

from typing import Protocol

from engine.performance.events import control, note_off, note_on
from tui.midi.sound_book import SoundBook

SUSTAIN, ALL_SOUND_OFF, ALL_NOTES_OFF = 64, 120, 123
"""Controllers. Source: MIDI 1.0 Detailed Specification, controller numbers and channel mode messages."""

SYSTEM = 0xF0
"""Messages from here on are system messages and have no channel. Source: MIDI 1.0 Detailed Specification."""


SENSING = 0xFE
"""Active sensing: who has heard it once and then hears nothing for 300 ms turns off all voices. It is the standard's
cure for a sender that vanishes with notes down (a pulled cable, a power cut). It cannot be taken back: a stream of it
that ends is a connection that ends. Source: MIDI 1.0 Detailed Specification, system real time messages."""


class Output(Protocol):
    """Whatever MIDI messages can be sent to: an open port, or sound of our own."""

    def send(self, data: bytes) -> None: ...

    def close(self) -> None: ...


class SoundingPort:
    """An open port that knows what sounds, also told to `book`. On each key note-ons and note-offs alternate strictly.

    Used by one thread only: the flag below is what keeps a send from following the close (a crash in the library).
    """

    def __init__(self, output: Output, book: SoundBook | None = None) -> None:
        self.output = output
        self._book = book or SoundBook()
        self._open = True
        self._channels: set[int] = set()
        self.played = False
        """True once a note has been sent."""
        self.sounding: set[tuple[int, int]] = set()

    def send(self, data: bytes) -> None:
        """Send one message; a key struck again is released first, a note-off for a silent key is left out."""
        if data[0] >= SYSTEM:
            self._put(data)
            return
        kind, channel = data[0] & 0xF0, (data[0] & 0x0F) + 1
        if kind == 0x90 and data[2] > 0:
            self._release(channel, data[1])
            self.sounding.add((channel, data[1]))
            # Before it is sent: what is killed between the two owes a note-off too many, not one too few.
            self._book.write(channel, data[1], True)
            self.played = True
        elif kind in (0x80, 0x90):
            self._release(channel, data[1])
            return
        self._put(data)
        self._channels.add(channel)

    def strike(self, notes: dict[int, int], channel: int, legato: bool = False) -> None:
        """Release what is not wanted and strike `notes` (key -> velocity), low keys first.

        With `legato` the keys that already sound are left alone.
        """
        wanted = {(channel, key) for key in notes}
        self.release(keep=wanted if legato else set())
        for key, velocity in sorted(notes.items()):
            if (channel, key) not in self.sounding:
                self.send(note_on(key, velocity, channel))

    def release(self, keep: set[tuple[int, int]] | None = None) -> None:
        """Send the note-offs that are owed, except for the (channel, key) pairs in `keep`."""
        for channel, key in sorted(self.sounding - (keep or set())):
            self._release(channel, key)

    def silence(self, everywhere: bool = False) -> None:
        """Stop all sound on the channels that were used, or on all sixteen, also what a dead sender left sounding."""
        self.release()
        for data in self._book.note_offs() if everywhere else ():
            self._put(data)
        if everywhere:
            self._book.clear()
        for channel in range(1, 17) if everywhere else sorted(self._channels):
            self._put(control(SUSTAIN, 0, channel))
            self._put(control(ALL_NOTES_OFF, 0, channel))
            self._put(control(ALL_SOUND_OFF, 0, channel))

    def send_again(self, data: bytes) -> None:
        """Send a message whatever sounds."""
        self._put(data)

    def sense(self) -> None:
        """Send active sensing, from the first note on: an instrument that was not played is left alone."""
        if self.played:
            self._put(bytes((SENSING,)))

    def close(self) -> None:
        """Silence and close; a second call does nothing."""
        if self._open:
            try:
                self.silence()
            finally:
                self._open = False
                self.output.close()

    def _release(self, channel: int, key: int) -> None:
        if (channel, key) in self.sounding:
            self.sounding.discard((channel, key))
            self._put(note_off(key, channel))
            self._book.write(channel, key, False)

    def _put(self, data: bytes) -> None:
        if self._open:
            self.output.send(data)
