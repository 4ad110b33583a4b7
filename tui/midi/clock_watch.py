"""The clock process kept alive and its ports open, seen from the interface: nothing here waits for a MIDI library.

The clock process may die or hang inside a MIDI library. A watching thread notices at once, has the notes ended by the
process that lists the ports, starts a new clock, opens the same ports by name and says so in `status`.
"""

import threading
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from engine.performance.following import Place
from tui.midi import messages as said
from tui.midi.clock_processes import ClockProcesses
from tui.midi.lister import Lister
from tui.midi.open_ports import SENDING
from tui.midi.port_list import PortsSeen
from tui.midi.port_words import short
from tui.midi.silences import Silences
from tui.midi.sound_book import new_book_file, remove_book_file
from tui.midi.wanted_ports import WantedPorts

WATCH = 0.25
"""Seconds between two looks at the processes; a death is seen at once."""


@dataclass(frozen=True, slots=True)
class ClockEvent:
    """What the clock says. `kind` is beat, step, pass or rung (with `value`), end, in (with `data`, one MIDI message),
    place (of the leader that is followed, with its `tempo`), ports, status, or alarm (with `text`: nobody could send a
    silence). An end that was not the music's says why in `text`. `seconds` is the monotonic time at which it
    happened or was due."""

    kind: str
    seconds: float
    value: int = 0
    data: bytes = b""
    text: str = ""
    place: Place | None = None
    tempo: float | None = None


class WatchedClock:
    """The clock process and the process that lists ports, with the ports that are wanted of them.

    Args:
        module: whose main() is the clock's process; another one may offer outputs that are no MIDI ports.
        sinks: the names of those outputs.
    """

    def __init__(
        self,
        log: Path | None = None,
        on_event: Callable[[ClockEvent], None] | None = None,
        module: str = "tui.midi.clock_process",
        sinks: Iterable[str] = (),
    ) -> None:
        self.on_event = on_event
        self._ports = WantedPorts(sinks)
        self._book = new_book_file()
        self._lister = Lister(self._hear_ports, self._hear_silenced, log, self._book)
        self._silences = Silences(self._lister)
        self._said = ""
        self._opening = False
        self._leads: said.Lead | None = None
        self._sensing = said.Sensing(True)
        self._closing = threading.Event()
        self._wake = threading.Event()
        self._processes = ClockProcesses(module, log, self._book, self._hear, self._wake.set)
        self._watcher: threading.Thread | None = None

    def start(self) -> None:
        """Start the clock process and the watch over it; a second call does nothing."""
        if self._watcher is None:
            self._watcher = threading.Thread(target=self._watch, name="clock watch", daemon=True)
            self._watcher.start()

    @property
    def restarts(self) -> int:
        """How often the clock process had to be started again."""
        return self._processes.restarts

    @property
    def process_id(self) -> int | None:
        process = self._processes.running
        return process.pid if process else None

    @property
    def spare_id(self) -> int | None:
        """The number of the process that is to take the clock's place."""
        return self._processes.spare_id

    @property
    def lister_id(self) -> int | None:
        """The number of the process that lists the ports."""
        return self._lister.process_id

    @property
    def ready(self) -> bool:
        """True when the wanted output is open."""
        return bool(self._ports.name("out"))

    @property
    def status(self) -> str:
        """One line for the player: what sounds through what, or why nothing does."""
        return self._ports.status

    def ports(self) -> PortsSeen | None:
        """Return the ports last seen, None before the first answer."""
        return self._ports.seen

    def open(self, name: str | None, role: str = "out") -> None:
        """Use the port of this name (or a part of it) from now on, also when it comes only later; None for no port."""
        self._ports.want(role, name or "")
        self._lister.hurry()
        self._ask_open(role, name or "")
        self._tell_status()

    def panic(self) -> None:
        """Stop playing and silence all sixteen channels, also of what others left sounding; when the clock cannot send
        it another process does, and when nobody can an event of kind alarm says so."""
        wish = self._silences.ask(time.monotonic(), self._ports.wanted.get("out", ""), self._ports.name("out"))
        self._send(wish)
        self._wake.set()

    def close(self, seconds: float = 1.5) -> None:
        """Silence everything and end the processes, waiting for at most `seconds`; a second call does nothing."""
        if self._closing.is_set():
            return
        self._closing.set()
        self._wake.set()
        processes = self._processes.end()
        self._lister.tell(said.Charge())
        self._lister.end()
        end = time.monotonic() + seconds
        for process in processes:
            process.leave(max(end - time.monotonic(), 0.1))
        self._lister.leave(max(end - time.monotonic(), 0.1))
        remove_book_file(self._book)

    # The watch ------------------------------------------------------------------------------------------------------

    def _watch(self) -> None:
        before = time.monotonic()
        while not self._closing.is_set():
            now = time.monotonic()
            # After a pause of our own (a suspended program) the others' silence proves nothing.
            late = now - before > 4 * WATCH
            before = now
            self._look_at_clock(now, late)
            self._lister.look(now, late, bool(self._ports.wanted))
            self._tell_guard()
            self._watch_silences(now)
            for role, name in self._ports.missing(now).items():
                self._ask_open(role, name)
            self._tell_status()
            self._wake.wait(self._silences.wait(WATCH))
            self._wake.clear()

    def _watch_silences(self, now: float) -> None:
        if words := self._silences.look(now, self._processes.running is not None):
            self._tell("alarm", now, text=words)

    def _tell_guard(self) -> None:
        """Say to the other process what it is to silence should both of us be killed."""
        process = self._processes.running
        if process is not None and not self._closing.is_set():
            self._lister.tell(said.Charge(self._ports.sounding, process.pid))

    def _look_at_clock(self, now: float, late: bool) -> None:
        if replaced := self._processes.look(now, late, self._opening):
            self._mourn(now, replaced.pause)
        if self._processes.start(now):
            self._begin_clock()
        # Not before the instrument's port is open: starting is not to be slower for it.
        self._processes.stand_by(now, late, self._ports.wants_midi, self._ports.name("out"))

    def _mourn(self, now: float, pause: float) -> None:
        """The clock has died: have its notes ended at once, whoever takes its place."""
        self._opening = False
        for out in self._ports.sounding:
            self._silences.instead(now, out)
        self._ports.closed()
        again = "was started again" if not pause else f"is started again in {pause:.1f} s"
        self._tell("status", now, text=f"the MIDI clock had stopped and {again}")
        self._tell("end", now, text="the MIDI clock had stopped")

    def _begin_clock(self) -> None:
        """Tell a clock that is new what is wanted, the instrument first: that silences it."""
        self._send(self._sensing)
        for role, name in sorted(self._ports.wanted.items(), key=lambda entry: entry[0] != "out"):
            self._ask_open(role, name)
        if self._leads:
            self._send(self._leads)

    def _ask_open(self, role: str, name: str) -> None:
        # A clock that has just begun asks for all that is wanted: the same port is not opened twice over.
        if self._processes.running is not None and self._ports.asked(role, name):
            self._send(said.Open(role, name))

    def _send(self, message: object) -> None:
        if process := self._processes.running:
            process.send(message)

    # What the processes say (from their reading threads) ------------------------------------------------------------

    def _hear(self, message: object) -> None:
        self._opening = isinstance(message, said.Opening)
        match message:
            case said.Marked(kind, value, at):
                self._tell(kind, at, value=value)
            case said.Played(data, at):
                self._tell("in", at, data=data)
            case said.LeaderAt(place, tempo, at):
                self._tell("place", at, place=place, tempo=tempo)
            case said.Silenced(number):
                self._hear_silenced(number)
            case said.Opened(role, name):
                self._ports.opened(role, name)
                self._wake.set()
                self._tell_status()
            case said.NotOpened(role, why):
                self._ports.refused(role, why)
                self._tell_status()

    def _hear_silenced(self, number: int) -> None:
        self._silences.done(number)

    def _hear_ports(self, ports: PortsSeen) -> None:
        changed = ports != self._ports.seen
        lost = self._ports.listed(ports)
        if lost:
            self._drop(lost)
        if changed:
            self._tell("ports", time.monotonic())
            self._tell_status()
            self._wake.set()

    def _drop(self, lost: dict[str, str]) -> None:
        """Let go of ports that have gone; with an output its process too: closing a dead server's port crashes."""
        if not any(role in SENDING for role in lost):
            for role in lost:
                self._send(said.Open(role))
        elif self._processes.running is not None:
            self._processes.let_go()
            self._ports.closed()
            self._tell_status()
            self._tell("end", time.monotonic(), text=f"{short(next(iter(lost.values())))} is gone")

    def _tell_status(self) -> None:
        status = self.status
        if status != self._said:
            self._said = status
            self._tell("status", time.monotonic(), text=status)

    def _tell(self, kind: str, seconds: float, **parts: Any) -> None:
        if self.on_event is not None and not self._closing.is_set():
            self.on_event(ClockEvent(kind, seconds, **parts))
