"""What comes in, thinned out on the library's own thread: a flood must not keep anybody from falling silent.

A wheel or a pressure-sensitive keyboard sends thousands of messages a second that nobody asked for. What is passed on:
notes, program changes, and of each controller what moves it across the middle at once, the rest now and then.
"""

import threading
from collections import deque
from collections.abc import Callable

NOTE_OFF, NOTE_ON, CONTROL, PROGRAM = 0x80, 0x90, 0xB0, 0xC0

MOST = 150
"""Notes, program changes and moves of controllers a second that are passed on for long. Two hands play some fifty."""

AT_ONCE = 64
"""As many may come at once."""

STILL = 0.02
"""Seconds between two values of a controller on the same side of its middle."""

KEPT = 512
"""Messages that wait to be dealt with; the oldest are dropped."""


class InputFilter:
    """`wake` is called when there is something to take; messages come in from other threads."""

    def __init__(self, wake: Callable[[], None]) -> None:
        self._wake = wake
        self._lock = threading.Lock()
        self._waiting: deque[tuple[str, bytes, float]] = deque(maxlen=KEPT)
        self._down: set[tuple[int, int]] = set()
        self._controls: dict[tuple[int, int], tuple[bool, float]] = {}
        self._held_back: dict[tuple[int, int], bytes] = {}
        self._allowed, self._since = float(AT_ONCE), 0.0

    def receive(self, role: str, data: bytes, at: float) -> None:
        """Take a message that came in at `at` (seconds); cheap for what is dropped."""
        if not data or (role == "in" and not self._wanted(data, at)):
            return
        self._keep(role, data, at)

    def _keep(self, role: str, data: bytes, at: float) -> None:
        with self._lock:
            first = not self._waiting
            # The player's keys keep their room beside a leader whose clock runs wild.
            if role != "in" and len(self._waiting) > KEPT // 2:
                return
            self._waiting.append((role, data, at))
        if first:
            self._wake()

    def take(self, now: float) -> list[tuple[str, bytes, float]]:
        """Return what is to be dealt with, and the last value of each controller that has come to rest."""
        with self._lock:
            waiting = list(self._waiting)
            self._waiting.clear()
        for source, data in list(self._held_back.items()):
            side, last = self._controls.get(source, (False, 0.0))
            if now - last >= STILL and self._within(now):
                self._held_back.pop(source, None)
                self._controls[source] = side, now
                waiting.append(("in", data, now))
        return waiting

    @property
    def pending(self) -> bool:
        """True while a controller's last value is held back."""
        return bool(self._held_back)

    def forget(self) -> None:
        """Begin anew with a port that was opened."""
        self._down.clear()
        self._controls.clear()
        self._held_back.clear()

    def _wanted(self, data: bytes, at: float) -> bool:
        kind = data[0] & 0xF0
        if kind == CONTROL and len(data) > 2:
            return self._control_wanted(data, at)
        if kind in (NOTE_ON, NOTE_OFF) and len(data) > 2:
            key = (data[0] & 0x0F, data[1])
            if kind == NOTE_OFF or not data[2]:
                # Only the release of a key that was heard to go down.
                known = key in self._down
                self._down.discard(key)
                return known
            if not self._within(at):
                return False
            self._down.add(key)
            return True
        return kind == PROGRAM and self._within(at)

    def _control_wanted(self, data: bytes, at: float) -> bool:
        source, side = (data[0] & 0x0F, data[1]), data[2] >= 64
        before, last = self._controls.get(source, (not side, 0.0))
        if (before != side or at - last >= STILL) and self._within(at):
            self._controls[source] = side, at
            self._held_back.pop(source, None)
            return True
        self._held_back[source] = data
        return False

    def _within(self, at: float) -> bool:
        self._allowed = min(self._allowed + (at - self._since) * MOST, float(AT_ONCE))
        self._since = at
        if self._allowed < 1:
            return False
        self._allowed -= 1
        return True
