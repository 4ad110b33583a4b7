"""What the player plays, passed on to an instrument as it comes (MIDI thru), whatever else is filtered out of it."""

import threading
from collections.abc import Callable

from tui.midi.sounding import SYSTEM

NOTE_OFF, NOTE_ON, KEY_PRESSURE, CONTROL, PRESSURE, BEND = 0x80, 0x90, 0xA0, 0xB0, 0xD0, 0xE0

SWITCHES = range(64, 70)
"""Controllers that are pedals and not wheels. Source: MIDI 1.0 Detailed Specification, controller numbers."""

KEPT = 256
"""Messages that wait to be sent; beyond them no more keys go down."""


class Thru:
    """`wake` is called when there is something to take; messages come in from the library's thread.

    Of a wheel that moves faster than it is sent only the last place is: a flood must not hold up anybody's silence.
    """

    def __init__(self, wake: Callable[[], None]) -> None:
        self._wake = wake
        self._lock = threading.Lock()
        self._waiting: dict[object, bytes] = {}
        self._down: set[tuple[int, int]] = set()
        self._number = 0

    def receive(self, data: bytes) -> None:
        """Take a message that came in; system messages are not passed on."""
        if not data or data[0] >= SYSTEM:
            return
        with self._lock:
            first = not self._waiting
            if not self._wanted(data):
                return
            self._waiting[self._place(data)] = data
        if first:
            self._wake()

    def take(self) -> tuple[bytes, ...]:
        """Return what is to be sent, in order."""
        with self._lock:
            waiting = tuple(self._waiting.values())
            self._waiting.clear()
        return waiting

    def _wanted(self, data: bytes) -> bool:
        """Keep the books of what is down, so that each key that went down goes up and none goes up twice."""
        kind, key = data[0] & 0xF0, (data[0] & 0x0F, data[1] if len(data) > 1 else 0)
        if kind == NOTE_ON and data[2]:
            room = len(self._waiting) < KEPT
            if room:
                self._down.add(key)
            return room
        if kind in (NOTE_ON, NOTE_OFF):
            known = key in self._down
            self._down.discard(key)
            return known
        return len(self._waiting) < 2 * KEPT

    def _place(self, data: bytes) -> object:
        """Return what stands for a message while it waits: the same for every place of one wheel."""
        kind = data[0] & 0xF0
        if kind in (BEND, PRESSURE):
            return data[0]
        if kind == KEY_PRESSURE or (kind == CONTROL and data[1] not in SWITCHES):
            return data[0], data[1]
        self._number += 1
        return self._number, "one of its own"
