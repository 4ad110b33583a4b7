"""The interface's side of the clock process: every call returns at once, whatever the MIDI system does.

The clock process may die or hang inside a MIDI library. A watching thread notices, kills it, starts it again, opens the
same ports by name (which first silences them) and says so in `status`.
"""

import threading
import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from engine.perform.events import Timed
from engine.perform.following import Place
from engine.perform.timeline import Performance
from engine.perform.touch import Touch, voiced
from engine.plan.model import PlannedStep
from tui.devices.child import Child, Line
from tui.devices.ports import VIRTUAL, matching, without_address
from tui.port_list import NO_ANSWER, PortsSeen, seen

ROLES = ("out", "in", "lead", "follow")
"""What a port is for: the instrument, the player's keyboard and pedal, the copy we lead, the copy we follow."""

VERBS = {"out": "plays through", "in": "listens to", "lead": "leads on", "follow": "follows"}

STALLED = 2.0
"""Seconds without a sign of life after which the clock process is killed; it gives one every quarter second."""

STARTING = 15.0
"""The same for a process that has not spoken yet: a cold disk takes its time."""

OPENING = 8.0
"""The same while a port is being opened: some systems start their sound server then."""

WATCH = 0.25
"""Seconds between two looks at the processes."""

LISTEN = 2.5
"""Seconds without a list of ports after which the listing process is killed; it lists every second."""

PART = 200
"""Messages in one line to the clock process, so that reading a line never takes as long as a beat's precision."""


@dataclass(frozen=True, slots=True)
class ClockEvent:
    """What the clock says. `kind` is beat, step, pass or rung (with `value`), end, in (with `data`, one MIDI message),
    place (of the leader that is followed), ports, or status (with `text`). `seconds` is the monotonic time at which it
    happened or was due."""

    kind: str
    seconds: float
    value: int = 0
    data: bytes = b""
    text: str = ""
    place: Place | None = None


class Clock:
    """Plays, sounds and listens through MIDI ports that are opened by name and found again when they come back.

    `on_event` is called from a thread of ours and must return soon (posting a message is fine).
    """

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
        self._lister: Child | None = None
        self._list_at = 0.0
        self._start_at = 0.0
        self._failures = 0
        self._restarts = 0
        self._said = ""
        self._opening = False
        self._leads: Line | None = None
        self._closing = threading.Event()
        self._watcher: threading.Thread | None = None

    # For the screen -------------------------------------------------------------------------------------------------

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
        if not wanted:
            return "no MIDI port chosen"
        words = [
            f"{VERBS[role]} {_short(opened[role])}" if role in opened else _missing(wanted[role], why.get(role), ports)
            for role in ROLES
            if role in wanted
        ]
        return "; ".join(dict.fromkeys(words))

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
            self._list_at = 0.0
        if name:
            self._ask_open(role, name)
        else:
            self._send({"do": "open", "role": role, "name": ""})
        self._tell_status()

    def play(self, performance: Performance, delay: float = 0.0) -> None:
        """Play from the start, `delay` seconds from now; what was playing stops."""
        begin = time.monotonic() + delay
        messages = [[seconds, data.hex()] for seconds, data in performance.messages]
        for first in range(0, len(messages), PART):
            self._send({"do": "more", "messages": messages[first : first + PART]})
        self._send(
            {
                "do": "play",
                "begin": begin,
                "marks": [[mark.seconds, mark.kind, mark.value] for mark in performance.marks],
                "loops": [[loop.start, loop.end] for loop in performance.loops],
                "seconds": performance.seconds,
            }
        )

    def count_in(self, schedule: tuple[Timed, ...]) -> None:
        """Play messages without marks."""
        self.play(Performance(schedule))

    def sound(
        self,
        keys: Sequence[int],
        velocity: int | Sequence[int] = 76,
        channel: int = 1,
        legato: bool = False,
        seconds: float | None = None,
    ) -> None:
        """Sound a chord in place of the one before, until the next or for `seconds`; `velocity` for all or for each.

        With `legato` the keys that both chords have are not struck again.
        """
        loud = [velocity] * len(keys) if isinstance(velocity, int) else list(velocity)
        notes = [list(pair) for pair in zip(keys, loud, strict=True)]
        self._send({"do": "sound", "notes": notes, "channel": channel, "legato": legato, "seconds": seconds})

    def send(self, messages: Iterable[bytes]) -> None:
        """Send messages now: a program change, a pedal; system messages go to the port that leads."""
        self._send({"do": "send", "messages": [data.hex() for data in messages]})

    def sound_step(self, step: PlannedStep, touch: Touch, guide: bool = False, seconds: float | None = None) -> None:
        """Sound a step's voicing, the hands as loud as `touch` says, or quietly as a guide."""
        notes = voiced(step, touch, guide)
        keys, loud = [key for key, _ in notes], [velocity for _, velocity in notes]
        self.sound(keys, loud, touch.channel, touch.held, seconds)

    def lead(self, song: int, sixteenth: int) -> None:
        """Tell the copies that follow where we are: the song of the set (from 0) and the sixteenth in it."""
        self._leads = {"do": "lead", "song": song, "sixteenth": sixteenth}
        self._send(self._leads)

    def cue(self) -> None:
        """Leave the loop or vamp when it comes to its end."""
        self._send({"do": "cue"})

    def silence(self) -> None:
        """Stop playing; nothing sounds on."""
        self._send({"do": "silence"})

    stop = silence

    def panic(self) -> None:
        """As `silence`, on all sixteen channels, also for what others left sounding."""
        self._send({"do": "panic"})

    def close(self, seconds: float = 1.5) -> None:
        """Silence everything and end the processes, waiting for at most `seconds`; a second call does nothing."""
        if self._closing.is_set():
            return
        self._closing.set()
        with self._lock:
            process, lister = self._process, self._lister
            self._process = self._lister = None
        if lister:
            lister.end()
        end = time.monotonic() + seconds
        if process:
            process.leave(seconds)
        if lister:
            lister.leave(max(end - time.monotonic(), 0.1))

    # The watch ------------------------------------------------------------------------------------------------------

    def _watch(self) -> None:
        before = time.monotonic()
        while not self._closing.is_set():
            now = time.monotonic()
            # After a pause of our own (a suspended program) the others' silence proves nothing.
            late = now - before > 4 * WATCH
            before = now
            self._look_at_clock(now, late)
            self._look_at_lister(now, late)
            self._open_again(now)
            self._tell_status()
            self._closing.wait(WATCH)

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
            process = Child("tui.devices.clock_process", self._hear, self._log)
        except OSError:
            self._start_at = time.monotonic() + 5.0
            return
        if self._closing.is_set():
            process.end()
            return
        with self._lock:
            self._process = process
            wanted = dict(self._wanted)
        for role, name in wanted.items():
            self._ask_open(role, name)
        if self._leads:
            self._send(self._leads)

    def _look_at_lister(self, now: float, late: bool) -> None:
        lister = self._lister
        if lister is None:
            if now >= self._list_at:
                self._start_lister()
            return
        if late:
            lister.heard = now
        silent = now - lister.heard > (LISTEN if lister.spoke else STARTING)
        if lister.alive and not silent:
            return
        lister.kill()
        self._lister = None
        # One that ends soon finds nothing, again and again; without a wish for a port there is no hurry at all.
        lived = now - lister.started > 2 * LISTEN
        self._list_at = now + (5.0 if not self._wanted else 0.5 if lived else 2.0)
        if silent:
            self._hear_ports(NO_ANSWER)

    def _start_lister(self) -> None:
        if not self._closing.is_set():
            try:
                self._lister = Child("tui.devices.port_watch", lambda line: self._hear_ports(seen(line)), self._log)
            except OSError:
                self._list_at = time.monotonic() + 5.0

    def _open_again(self, now: float) -> None:
        """Ask for wanted ports that are there and not open."""
        with self._lock:
            missing = {role: name for role, name in self._wanted.items() if role not in self._opened}
            ports = self._seen
        for role, name in missing.items():
            names = list(_names(ports, role))
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
                if name not in _names(ports, role) and not name.startswith(VIRTUAL)
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


def _names(ports: PortsSeen | None, role: str) -> tuple[str, ...]:
    if ports is None:
        return ()
    return ports.outputs if role in ("out", "lead") else ports.inputs


def _short(name: str) -> str:
    """Return a port's name as on the device: without the system's prefix and address."""
    device, _, port = without_address(name).partition(":")
    return port if port.startswith(device) or device == VIRTUAL[:-1] else without_address(name)


def _missing(name: str, why: str | None, ports: PortsSeen | None) -> str:
    if ports is not None and ports.trouble:
        return ports.trouble.partition(". ")[0].removesuffix(".")
    return f"{name}: {why or 'not connected, taken up when it comes'}"
