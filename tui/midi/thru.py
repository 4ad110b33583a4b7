"""What the player plays, passed on to an instrument as it comes (MIDI thru), whatever else is filtered out of it."""

import threading
from collections.abc import Callable
from itertools import islice

from tui.midi.sounding import SYSTEM

NOTE_OFF, NOTE_ON, KEY_PRESSURE, CONTROL, PRESSURE, BEND = 0x80, 0x90, 0xA0, 0xB0, 0xD0, 0xE0

SWITCHES = range(64, 70)
"""Controllers that are pedals and not wheels. Source: MIDI 1.0 Detailed Specification, controller numbers."""

MOST, AT_ONCE = 1000, 100
"""Messages a second that are passed on for long, and at once. A DIN cable carries 1,040 of three bytes a second (31 250
baud, ten bits a byte: MIDI 1.0). At 10,000 a library's own buffer ran full, and its send never came back (seen)."""

APART = 0.005
"""Seconds between two places of one wheel (own choice: 200 a second is more than an ear follows)."""

ALONE = -1
"""In place of a wheel's number: a message that no other takes the place of."""

KEPT = 256
"""Messages that wait to be sent; beyond them no more keys go down."""


class Thru:
    """`wake` is called when there is something to take; messages come in from the library's thread.

    Of a wheel that moves faster than it is sent only the last place is: a flood must not hold up anybody's silence.
    """

    def __init__(self, wake: Callable[[], None]) -> None:
        self._wake = wake
        self._lock = threading.Lock()
        self._waiting: dict[tuple[int, int], bytes] = {}
        self._moved: dict[tuple[int, int], float] = {}
        """When each wheel was passed on last (seconds)."""
        self._down: set[tuple[int, int]] = set()
        self._number = 0
        self._allowed, self._since = float(AT_ONCE), 0.0

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

    def take(self, now: float) -> tuple[bytes, ...]:
        """Return what is to be sent at `now` (seconds), in order; what is more than a cable carries waits."""
        self._allowed = min(self._allowed + (now - self._since) * MOST, float(AT_ONCE))
        self._since = now
        with self._lock:
            due = (place for place in self._waiting if now - self._moved.get(place, -1.0) >= APART)
            places = list(islice(due, max(int(self._allowed), 0)))
            taken = tuple(self._waiting.pop(place) for place in places)
        self._moved.update((place, now) for place in places if place[1] != ALONE)
        self._allowed -= len(taken)
        return taken

    @property
    def pending(self) -> bool:
        """True while something waits."""
        return bool(self._waiting)

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

    def _place(self, data: bytes) -> tuple[int, int]:
        """Return what stands for a message while it waits: the same for every place of one wheel."""
        kind = data[0] & 0xF0
        if kind in (BEND, PRESSURE):
            return data[0], 0
        if kind == KEY_PRESSURE or (kind == CONTROL and data[1] not in SWITCHES):
            return data[0], data[1]
        self._number += 1
        return self._number, ALONE
