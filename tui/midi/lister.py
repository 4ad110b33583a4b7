"""The process that lists the ports, kept alive: it may hang or crash in a MIDI library, and is then started again."""

import time
from collections.abc import Callable
from pathlib import Path

from tui.midi.child_process import Child
from tui.midi.messages import Charge, Hush, Ports, Silenced
from tui.midi.port_list import NO_ANSWER, PortsSeen, seen

LISTEN = 2.5
"""Seconds without a list of ports after which the listing process is killed; it lists every second."""

STARTING = 15.0
"""The same for a process that has not spoken yet: a cold disk takes its time."""


class Lister:
    """At most one such process runs. From a thread of ours `on_ports` is called with each list it gives, `on_silenced`
    with the number of a silence it has sent in the clock's place."""

    def __init__(
        self,
        on_ports: Callable[[PortsSeen], None],
        on_silenced: Callable[[int], None],
        log: Path | None,
        book: str = "",
    ) -> None:
        self._on_ports, self._on_silenced = on_ports, on_silenced
        self._book = book
        self._log = log
        self._process: Child | None = None
        self._start_at = 0.0
        self._told = Charge()
        self._over = False

    @property
    def process_id(self) -> int | None:
        process = self._process
        return process.pid if process else None

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
        self._start_at = now + (5.0 if not wanted else 0.0 if lived else 1.0)
        if silent:
            self._on_ports(NO_ANSWER)

    def hurry(self) -> None:
        """Start it without waiting, should it not run."""
        self._start_at = 0.0

    def tell(self, charge: Charge) -> None:
        """Say whom it survives (see `guard`); it is said again to the next process."""
        if charge != self._told:
            self._told = charge
            if self._process is not None:
                self._process.send(charge)

    def hush(self, wish: Hush) -> bool:
        """Have it silence a port in place of the clock; False when there is nobody to do it."""
        process = self._process
        if process is None or not process.alive:
            return False
        process.send(wish)
        return True

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
            process = Child("tui.midi.port_watch", self._hear, self._log, "", self._book)
        except OSError:
            self._start_at = time.monotonic() + 5.0
            return
        self._process = process
        process.send(self._told)
        if self._over:
            process.end()

    def _hear(self, message: object) -> None:
        match message:
            case Ports():
                self._on_ports(seen(message))
            case Silenced(number):
                self._on_silenced(number)
