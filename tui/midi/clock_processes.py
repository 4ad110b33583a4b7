"""The clock's process and a spare one that waits to take its place: what is started when, after how long a pause.

A fresh process takes a tenth of a second or two until it speaks, and a JACK server that has just lost clients takes
up to a second to let a new one in (measured). The spare has both behind it.
"""

import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tui.midi import messages as said
from tui.midi.child_process import Child
from tui.midi.lister import STARTING
from tui.midi.messages import SPARE

STALLED = 2.0
"""Seconds without a sign of life after which the clock process is killed; it gives one every quarter second."""

OPENING = 8.0
"""The same while a port is being opened: some systems start their sound server then."""

STEADY = 5.0
"""Seconds of life after which a clock's death is taken for the first again."""

LONGEST_PAUSE = 4.0
"""Seconds at most before a clock that keeps dying is started again: 0, 0.2, 0.4, 0.8 and so on."""

SPARE_AGAIN = 1.0
"""Seconds after the end of a spare until there is another."""

SHARED = sys.platform != "win32"
"""Whether several processes may have one port open."""

LEAVING = 0.3
"""Seconds in which a process that is not wanted any more may leave by itself."""

NO_PROCESS = 5.0
"""Seconds after which a process that the system would not start is tried again."""


@dataclass(frozen=True, slots=True)
class Replaced:
    """A clock has died or hung and was ended: `pause` seconds until the next, 0 when there is one at once."""

    pause: float


class ClockProcesses:
    """At most one process is the clock, at most one stands by. `on_message` hears the clock, from a thread of its own;
    `on_end` is called when either has ended."""

    def __init__(
        self,
        module: str,
        log: Path | None,
        book: str,
        on_message: Callable[[object], None],
        on_end: Callable[[], None],
    ) -> None:
        self._module, self._log, self._book = module, log, book
        self._on_message, self._on_end = on_message, on_end
        self._spare: Child | None = None
        self._spare_out = ""
        self._start_at = self._spare_at = 0.0
        self._since = 0.0
        self._failures = 0
        self._over = False
        self._lock = threading.Lock()
        self.running: Child | None = None
        """The clock, None while there is none."""
        self.restarts = 0
        """How often the clock had to be replaced."""

    @property
    def spare_id(self) -> int | None:
        """The number of the process that stands by."""
        spare = self._spare
        return spare.pid if spare else None

    def look(self, now: float, late: bool, opening: bool) -> Replaced | None:
        """Notice that the clock has died or hangs, and end it; `late` when our own watch was held up, `opening` while a
        port is being opened."""
        process = self.running
        if process is None:
            return None
        if late:
            process.heard = now
        patience = (OPENING if opening else STALLED) if process.spoke else STARTING
        if process.alive and now - process.heard < patience:
            process.send(said.Alive())
            return None
        process.on_message = _deaf
        process.kill()
        self._failures = 1 if now - self._since > STEADY else self._failures + 1
        self.restarts += 1
        self.running = None
        pause = 0.0 if self._failures == 1 else min(0.1 * 2 ** (self._failures - 1), LONGEST_PAUSE)
        self._start_at = self._spare_at = now + pause
        return Replaced(0.0 if self._spare_ready() else pause)

    def start(self, now: float) -> bool:
        """Have a clock, the spare or a fresh one, if there is none and its time has come; tell whether it is new."""
        if self.running is not None or self._over:
            return False
        process = self._taken() or (self._started(self._on_message) if now >= self._start_at else None)
        with self._lock:
            if process is None or self._over:
                return False
            self.running, self._since = process, now
        return True

    def stand_by(self, now: float, late: bool, wanted: bool, out: str) -> None:
        """Keep a spare while it is `wanted`, with the port `out` open; none is started before that port is."""
        if self._spare is None and wanted and out and now >= self._spare_at and not self._over:
            self._spare, self._spare_out = self._started(_deaf, SPARE), ""
        spare = self._spare
        if spare is None:
            return
        if late:
            spare.heard = now
        if not (wanted and _well(spare, now)):
            self._spare, self._spare_at = None, max(self._spare_at, now + SPARE_AGAIN)
            _leave(spare)
            return
        spare.send(said.Alive())
        if out != self._spare_out and SHARED:
            self._spare_out = out
            spare.send(said.StandBy(out))

    def let_go(self) -> None:
        """Have both end by themselves, since a port has gone; a clock is started anew at once."""
        left, self.running, self._spare, self._start_at = (self.running, self._spare), None, None, 0.0
        for process in left:
            if process is not None:
                process.on_message = _deaf
                _leave(process)

    def end(self) -> tuple[Child, ...]:
        """Start nothing any more; return the processes that are the caller's to end."""
        with self._lock:
            self._over = True
            left, self.running, self._spare = (self.running, self._spare), None, None
        going = tuple(process for process in left if process is not None)
        for process in going:
            process.send(said.Leave())
            process.end()
        return going

    def _spare_ready(self) -> bool:
        return self._spare is not None and self._spare.alive and self._spare.spoke

    def _taken(self) -> Child | None:
        """Return the spare, which hears and is heard from now on."""
        if not self._spare_ready():
            return None
        process, self._spare = self._spare, None
        assert process is not None
        process.on_message = self._on_message
        return process

    def _started(self, on_message: Callable[[object], None], *arguments: str) -> Child | None:
        try:
            return Child(self._module, on_message, self._log, self._book, *arguments, on_end=self._on_end)
        except OSError:
            self._start_at = self._spare_at = time.monotonic() + NO_PROCESS
            return None


def _leave(process: Child) -> None:
    """Let a process end by itself, or end it, without waiting for it."""
    process.send(said.Leave())
    threading.Thread(target=process.leave, args=(LEAVING,), daemon=True).start()


def _well(process: Child, now: float) -> bool:
    return process.alive and now - process.heard < (STALLED if process.spoke else STARTING)


def _deaf(_message: object) -> None:
    """What a process says that is not the clock does not count."""
