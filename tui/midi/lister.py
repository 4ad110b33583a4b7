"""The process that lists the ports, kept alive: it may hang or crash in a MIDI library, and is then started again."""

import time
from collections.abc import Callable
from pathlib import Path

from tui.midi.child_process import Child, Line
from tui.midi.port_list import NO_ANSWER, PortsSeen, seen

LISTEN = 2.5
"""Seconds without a list of ports after which the listing process is killed; it lists every second."""

STARTING = 15.0
"""The same for a process that has not spoken yet: a cold disk takes its time."""

ALONE: Line = {"out": "", "clock": 0}
"""What the process is told when nothing will be left to silence."""


class Lister:
    """At most one such process runs. `on_ports` is called from a thread with each list it gives."""

    def __init__(self, on_ports: Callable[[PortsSeen], None], log: Path | None) -> None:
        self._on_ports = on_ports
        self._log = log
        self._process: Child | None = None
        self._start_at = 0.0
        self._told: Line = {}
        self._over = False

    def look(self, now: float, late: bool, wanted: bool) -> None:
        """See to it that it runs; `late` when our own watch was held up, `wanted` when a port is waited for."""
        process = self._process
        if process is None:
            if now >= self._start_at:
                self._start()
            return
        if late:
            process.heard = now
        silent = now - process.heard > (LISTEN if process.spoke else STARTING)
        if process.alive and not silent:
            return
        process.kill()
        self._process = None
        # One that ends soon finds nothing, again and again; without a wish for a port there is no hurry at all.
        lived = now - process.started > 2 * LISTEN
        self._start_at = now + (5.0 if not wanted else 0.5 if lived else 2.0)
        if silent:
            self._on_ports(NO_ANSWER)

    def hurry(self) -> None:
        """Start it without waiting, should it not run."""
        self._start_at = 0.0

    def tell(self, line: Line) -> None:
        """Say whom it survives (see `guard`); it is said again to the next process."""
        if line != self._told:
            self._told = line
            if self._process is not None:
                self._process.send(line)

    def end(self) -> None:
        """Ask it to leave."""
        if self._process is not None:
            self._process.end()

    def leave(self, seconds: float) -> None:
        """Wait up to `seconds` for it to leave, then end it."""
        self._over = True
        process, self._process = self._process, None
        if process is not None:
            process.leave(seconds)

    def _start(self) -> None:
        try:
            process = Child("tui.midi.port_watch", lambda line: self._on_ports(seen(line)), self._log)
        except OSError:
            self._start_at = time.monotonic() + 5.0
            return
        self._process = process
        if self._told:
            process.send(self._told)
        if self._over:
            process.end()
