"""Plays a performance through the open ports: each message at its deadline, loops until they are left, another
performance of the same steps from its next step on.

Absolute deadlines on the monotonic clock: shortly before one it looks at the clock until it comes.
"""

import time
from collections.abc import Callable, Iterable
from dataclasses import replace

from engine.performance.events import Timed
from engine.performance.following import CONTINUE, START, STOP
from engine.performance.timeline import (
    Mark,
    Performance,
    Playing,
    after_pause,
    leave_loop,
    next_due,
    take_due,
    taken_over,
)
from tui.midi import messages as said
from tui.midi.open_ports import CLICK_CHANNEL, OpenPorts
from tui.midi.sounding import SYSTEM

SPIN = 0.001
"""The last millisecond before a deadline is not slept. Own measurement: 0.04 to 0.07 ms late at the 99th percentile."""


class Performer:
    """What is being played; one for each clock process. `say` tells the interface of marks as they come."""

    def __init__(self, ports: OpenPorts, say: Callable[[object], None]) -> None:
        self._ports, self._say = ports, say
        self._playing: Playing | None = None
        self._then: Performance | None = None
        self._muted = False
        self._collected: list[Timed] = []
        self._release_at: float | None = None
        self._leads = False

    @property
    def plays(self) -> bool:
        return self._playing is not None

    @property
    def due(self) -> float | None:
        """When the next message, mark or release is due (monotonic seconds), None when nothing is."""
        due = next_due(self._playing) if self._playing else None
        return min((at for at in (due, self._release_at) if at is not None), default=None)

    # What is asked

    def collect(self, messages: Iterable[Timed]) -> None:
        """Keep messages of the performance that is about to begin."""
        self._collected += messages

    def begin(self, rest: Performance, begin: float) -> None:
        """Play what was collected with the marks of `rest`, from `begin` on."""
        self._playing = Playing(self._whole(rest), max(begin, time.monotonic()))

    def go_on(self, rest: Performance) -> None:
        """Play what was collected in place of what is playing, from its next step on."""
        whole = self._whole(rest)
        if self._playing is not None:
            self._then = whole

    def mute(self) -> None:
        """Release the chord and strike no other until it goes on; the click does."""
        if self._playing is not None:
            self._muted = True
            self._ports.release()

    def cue(self) -> None:
        """Leave the loop at its end."""
        if self._playing is not None:
            self._playing = leave_loop(self._playing)

    def strike(self, chord: said.Strike) -> None:
        """Sound a chord in place of the one before."""
        self._ports.strike(dict(chord.notes), chord.channel, chord.legato)
        self._release_at = time.monotonic() + chord.seconds if chord.seconds else None

    def halt(self) -> None:
        """Play no more; what sounds is the caller's to end. Copies that were led are told."""
        self._playing = self._then = self._release_at = None
        self._muted = False
        if self._leads:
            self._send(bytes((STOP,)))

    # What is due

    def play(self) -> None:
        """Send what is due, having waited for it with open eyes when it is close."""
        if self._release_at is not None and time.monotonic() >= self._release_at:
            self._release_at = None
            self._ports.release()
        if self._playing:
            self._playing = after_pause(self._playing, time.monotonic())
        due = next_due(self._playing) if self._playing else None
        if self._playing is None or due is None or due - time.monotonic() > SPIN:
            return
        while time.monotonic() < due:
            pass
        self._exchange(due)
        self._playing, items = take_due(self._playing, time.monotonic())
        for item in items:
            if isinstance(item, Mark):
                self._mark(item, due)
            elif not self._muted or item[0] >= SYSTEM or item[0] & 0x0F == CLICK_CHANNEL - 1:
                self._send(item)
        if self._playing.over:
            self._playing = self._then = None
            self._ports.release()
            self._say(said.Marked("end", 0, due))

    def _exchange(self, due: float) -> None:
        """Go over to the performance that waits, if a step is due: its chords take the place of the others'."""
        if self._playing is None or self._then is None:
            return
        found = taken_over(self._playing, self._then, due)
        if found is None:
            return
        (self._playing, sounding), self._then, self._muted = found, None, False
        self._ports.keep_only(sounding)

    def _mark(self, mark: Mark, due: float) -> None:
        if mark.kind == "pass":
            self._ports.release()
        self._say(said.Marked(mark.kind, mark.value, due))

    def _send(self, data: bytes) -> None:
        if data[0] in (START, CONTINUE, STOP):
            self._leads = data[0] != STOP
        self._ports.send(data)

    def _whole(self, rest: Performance) -> Performance:
        messages, self._collected = tuple(self._collected), []
        return replace(rest, messages=messages)
