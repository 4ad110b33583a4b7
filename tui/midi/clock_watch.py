"""The clock process kept alive and its ports open, seen from the interface: nothing here waits for a MIDI library.

The clock process may die or hang inside a MIDI library. A watching thread notices, kills it, starts it again, opens the
same ports by name (which first silences them) and says so in `status`.
"""

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from engine.performance.following import Place
from tui.midi.child_process import Child, Line
from tui.midi.lister import ALONE, STARTING, Lister
from tui.midi.port_list import PortsSeen
from tui.midi.port_words import ROLES, names_for, short, status_words
from tui.midi.ports import VIRTUAL, matching

STALLED = 2.0
"""Seconds without a sign of life after which the clock process is killed; it gives one every quarter second."""

OPENING = 8.0
"""The same while a port is being opened: some systems start their sound server then."""

WATCH = 0.25
"""Seconds between two looks at the processes."""


@dataclass(frozen=True, slots=True)
class ClockEvent:
    """What the clock says. `kind` is beat, step, pass or rung (with `value`), end, in (with `data`, one MIDI message),
    place (of the leader that is followed), ports, or status (with `text`). An end
    that was not the music's says why in `text`. `seconds` is the monotonic time at which it
    happened or was due."""

    kind: str
    seconds: float
    value: int = 0
    data: bytes = b""
    text: str = ""
    place: Place | None = None


class WatchedClock:
    """The clock process and the process that lists ports, with the ports that are wanted of them."""

    def __init__(self, log: Path | None = None, on_event: Callable[[ClockEvent], None] | None = None) -> None:
        self.on_event = on_event
        self._log = log
        self._lock = threading.Lock()
        self._wanted: dict[str, str] = {}
        self._opened: dict[str, str] = {}
        self._asked: dict[str, float] = {}
        self._why: dict[str, str] = {}
        self._seen: PortsSeen | None = None
        self._process: Child | None = None
        self._lister = Lister(self._hear_ports, log)
        self._start_at = 0.0
        self._failures = 0
        self._restarts = 0
        self._said = ""
        self._opening = False
        self._leads: Line | None = None
        self._sensing: Line = {"do": "sensing", "on": True}
        self._closing = threading.Event()
        self._watcher: threading.Thread | None = None

    def start(self) -> None:
        """Start the clock process and the watch over it; a second call does nothing."""
        if self._watcher is None:
            self._watcher = threading.Thread(target=self._watch, name="clock watch", daemon=True)
            self._watcher.start()

    @property
    def restarts(self) -> int:
        """How often the clock process had to be started again."""
        return self._restarts

    @property
    def process_id(self) -> int | None:
        process = self._process
        return process.pid if process else None

    @property
    def ready(self) -> bool:
        """True when the wanted output is open."""
        return "out" in self._opened

    @property
    def status(self) -> str:
        """One line for the player: what sounds through what, or why nothing does."""
        with self._lock:
            wanted, opened, why, ports = dict(self._wanted), dict(self._opened), dict(self._why), self._seen
        return status_words(wanted, opened, why, ports)

    def ports(self) -> PortsSeen | None:
        """Return the ports last seen, None before the first answer."""
        return self._seen

    def open(self, name: str | None, role: str = "out") -> None:
        """Use the port of this name (or a part of it) from now on, also when it comes only later; None for no port."""
        if role not in ROLES:
            raise ValueError(f"no such role: {role}")
        with self._lock:
            if name:
                self._wanted[role] = name
            else:
                self._wanted.pop(role, None)
            self._opened.pop(role, None)
            self._why.pop(role, None)
        self._lister.hurry()
        if name:
            self._ask_open(role, name)
        else:
            self._send({"do": "open", "role": role, "name": ""})
        self._tell_status()

    def close(self, seconds: float = 1.5) -> None:
        """Silence everything and end the processes, waiting for at most `seconds`; a second call does nothing."""
        if self._closing.is_set():
            return
        self._closing.set()
        with self._lock:
            process, self._process = self._process, None
        self._lister.tell(ALONE)
        self._lister.end()
        end = time.monotonic() + seconds
        if process:
            process.leave(seconds)
        self._lister.leave(max(end - time.monotonic(), 0.1))

    # The watch ------------------------------------------------------------------------------------------------------

    def _watch(self) -> None:
        before = time.monotonic()
        while not self._closing.is_set():
            now = time.monotonic()
            # After a pause of our own (a suspended program) the others' silence proves nothing.
            late = now - before > 4 * WATCH
            before = now
            self._look_at_clock(now, late)
            self._lister.look(now, late, bool(self._wanted))
            self._tell_guard()
            self._open_again(now)
            self._tell_status()
            self._closing.wait(WATCH)

    def _tell_guard(self) -> None:
        """Say to the other process what it is to silence should both of us be killed."""
        with self._lock:
            process, out = self._process, self._opened.get("out", "")
        if process is not None and not self._closing.is_set():
            self._lister.tell({"out": out, "clock": process.pid})

    def _look_at_clock(self, now: float, late: bool) -> None:
        process = self._process
        if process is None:
            if now >= self._start_at:
                self._start_process()
            return
        if late:
            process.heard = now
        patience = (OPENING if self._opening else STALLED) if process.spoke else STARTING
        if process.alive and now - process.heard < patience:
            process.send({"do": "alive"})
            if now - process.started > 10 * STALLED:
                self._failures = 0
            return
        process.on_line = _deaf
        process.kill()
        self._failures += 1
        self._restarts += 1
        with self._lock:
            self._process = None
            self._opened.clear()
        self._start_at = now + min(0.1 * 2**self._failures, 5.0)
        self._tell("status", now, text="the MIDI clock had stopped and was started again")
        self._tell("end", now, text="the MIDI clock had stopped")
        if self._failures == 1:
            self._start_process()

    def _start_process(self) -> None:
        if self._closing.is_set():
            return
        try:
            process = Child("tui.midi.clock_process", self._hear, self._log)
        except OSError:
            self._start_at = time.monotonic() + 5.0
            return
        if self._closing.is_set():
            process.end()
            return
        with self._lock:
            self._process = process
            wanted = dict(self._wanted)
        self._send(self._sensing)
        for role, name in wanted.items():
            self._ask_open(role, name)
        if self._leads:
            self._send(self._leads)

    def _open_again(self, now: float) -> None:
        """Ask for wanted ports that are there and not open."""
        with self._lock:
            missing = {role: name for role, name in self._wanted.items() if role not in self._opened}
            ports = self._seen
        for role, name in missing.items():
            names = list(names_for(ports, role))
            if now - self._asked.get(role, 0.0) > 1.0 and matching(name, names):
                self._ask_open(role, name)

    def _ask_open(self, role: str, name: str) -> None:
        self._asked[role] = time.monotonic()
        self._send({"do": "open", "role": role, "name": name})

    def _send(self, line: Line) -> None:
        process = self._process
        if process is not None:
            process.send(line)

    # What the processes say (from their reading threads) ------------------------------------------------------------

    def _hear(self, line: Line) -> None:
        kind = line["is"]
        self._opening = kind == "opening"
        if kind == "mark":
            self._tell(line["kind"], line["at"], value=line["value"])
        elif kind == "in":
            self._tell(kind, line["at"], data=bytes.fromhex(line["data"]))
        elif kind == "place":
            place = Place(line["song"], line["sixteenth"], line["running"])
            self._tell(kind, line["at"], place=place)
        elif kind in ("open", "refused"):
            self._hear_open(line)

    def _hear_open(self, line: Line) -> None:
        role = line["role"]
        with self._lock:
            if line["is"] == "open":
                self._opened[role] = line["name"]
                self._why.pop(role, None)
            else:
                self._opened.pop(role, None)
                self._why[role] = line["why"]
        self._tell_status()

    def _hear_ports(self, ports: PortsSeen) -> None:
        with self._lock:
            changed = ports != self._seen
            self._seen = ports
            lost = {
                role: name
                for role, name in self._opened.items()
                if name not in names_for(ports, role) and not name.startswith(VIRTUAL)
            }
            for role in lost:
                self._opened.pop(role)
                self._why.pop(role, None)
            process = self._process
        if lost and process is not None:
            self._drop(process, lost)
        if changed:
            self._tell("ports", time.monotonic())
            self._tell_status()

    def _drop(self, process: Child, lost: dict[str, str]) -> None:
        """Let go of ports that have gone; with an output its process too: closing a dead server's port crashes."""
        if any(role in ("out", "lead") for role in lost):
            with self._lock:
                self._process, self._start_at = None, 0.0
                self._opened.clear()
            process.on_line = _deaf
            threading.Thread(target=process.leave, args=(0.3,), daemon=True).start()
            self._tell_status()
            self._tell("end", time.monotonic(), text=f"{short(next(iter(lost.values())))} is gone")
        else:
            for role in lost:
                process.send({"do": "open", "role": role, "name": ""})

    def _tell_status(self) -> None:
        status = self.status
        if status != self._said:
            self._said = status
            self._tell("status", time.monotonic(), text=status)

    def _tell(self, kind: str, seconds: float, **parts: Any) -> None:
        if self.on_event is not None and not self._closing.is_set():
            self.on_event(ClockEvent(kind, seconds, **parts))


def _deaf(_line: Line) -> None:
    """What a process says after it was given up does not count."""
