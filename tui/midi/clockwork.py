"""What the clock's process does from moment to moment: it obeys the interface and sends what is due.

Absolute deadlines on the monotonic clock: it sleeps until shortly before one, then looks at the clock until it comes.
"""

import json
import os
import queue
import sys
import threading
import time
from typing import Any

from engine.performance.following import CONTINUE, START, STOP, place_messages
from engine.performance.timeline import Loop, Mark, Performance, Playing, after_pause, leave_loop, next_due, take_due
from tui.midi.followed import Followed
from tui.midi.open_ports import OpenPorts
from tui.midi.ports import Refused
from tui.midi.sounding import SYSTEM

SPIN = 0.001
"""The last millisecond before a deadline is not slept. Own measurement: 0.04 to 0.07 ms late at the 99th percentile."""

HEARTBEAT = 0.25
"""Seconds between signs of life, both ways."""

ABANDONED = 3.0
"""Without a sign of life from the interface for this many seconds (it is suspended) everything is silenced."""

SENSE = 0.2
"""Seconds between two active sensing messages: a receiver waits for 0.3. Source: MIDI 1.0 Detailed Specification."""

HUSHES = 6
"""Signs of life after the opening of a port up to which it is silenced again (own choice)."""

LEAD_AGAIN = 1.0
"""Seconds after which a standing leader repeats its place, for followers that came late."""


class Clockwork:
    """The state of the process: the open ports and what is being played."""

    def __init__(self, out_fd: int) -> None:
        self._out_fd = out_fd
        self._inbox: queue.SimpleQueue[dict[str, Any]] = queue.SimpleQueue()
        self._ports = OpenPorts(self._received)
        self._playing: Playing | None = None
        self._collected: list[tuple[float, bytes]] = []
        self._release_at: float | None = None
        self._leader = Followed()
        self._leads: tuple[bytes, ...] = ()
        self._lead_again = 0.0
        self._running = False
        self._hush_again = 0
        self._heard = time.monotonic()
        self._next_sign = 0.0
        self._sense_at: float | None = 0.0
        self._on = True

    def run(self) -> None:
        """Obey and play until told to go."""
        threading.Thread(target=self._read_commands, daemon=True).start()
        try:
            while self._on:
                self._obey_next()
                self._play()
                self._live()
        finally:
            self._ports.close_all()

    def _read_commands(self) -> None:
        for line in sys.stdin:
            try:
                self._inbox.put(json.loads(line))
            except ValueError:
                print(f"not a command: {line[:80]}", file=sys.stderr)
        self._inbox.put({"do": "quit"})

    def _obey_next(self) -> None:
        """Wait for a command, but not longer than until just before the next deadline."""
        wait = min(self._deadlines()) - time.monotonic() - SPIN
        try:
            command = self._inbox.get(timeout=wait) if wait > 0 else self._inbox.get_nowait()
        except queue.Empty:
            return
        self._heard = time.monotonic()
        getattr(self, f"_do_{command['do']}")(command)

    def _deadlines(self) -> list[float]:
        due = next_due(self._playing) if self._playing else None
        return [self._next_sign] + [at for at in (due, self._release_at, self._sense_at) if at is not None]

    def _play(self) -> None:
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
        self._playing, items = take_due(self._playing, time.monotonic())
        for item in items:
            if isinstance(item, Mark):
                self._mark(item, due)
            else:
                self._send(item)
        if self._playing.over:
            self._playing = None
            self._ports.release()
            self._say({"is": "mark", "kind": "end", "value": 0, "at": due})

    def _mark(self, mark: Mark, due: float) -> None:
        if mark.kind == "pass":
            self._ports.release()
        self._say({"is": "mark", "kind": mark.kind, "value": mark.value, "at": due})

    def _send(self, data: bytes) -> None:
        if data[0] in (START, CONTINUE, STOP):
            self._running = data[0] != STOP
        self._ports.send(data)

    def _live(self) -> None:
        now = time.monotonic()
        if self._sense_at is not None and now >= self._sense_at:
            self._sense_at = now + SENSE
            self._ports.sense()
        if now < self._next_sign:
            return
        self._next_sign = now + HEARTBEAT
        self._say({"is": "alive"})
        self._hush()
        if news := self._leader.look(now):
            self._say(news)
        if self._leads and self._playing is None and now >= self._lead_again:
            self._repeat_place(now)
        leader = self._ports.listens_to("follow")
        if leader and not self._busy() and self._leader.silent(now):
            self._do_open({"role": "follow", "name": leader})
        if now - self._heard > ABANDONED and self._busy():
            self._do_stop({})

    def _hush(self) -> None:
        """Silence a newly opened port again while it is not played: a server that lost a client may have lost that."""
        port = self._ports.instrument
        if self._hush_again and port is not None:
            self._hush_again = 0 if port.played or self._playing else self._hush_again - 1
            if self._hush_again:
                port.silence(everywhere=True)

    def _busy(self) -> bool:
        return self._playing is not None or self._ports.sounds

    def _say(self, line: dict[str, Any]) -> None:
        """Tell the interface; when it does not read, the line is dropped rather than the beat."""
        try:
            os.write(self._out_fd, json.dumps(line).encode() + b"\n")
        except BlockingIOError:
            pass
        except OSError:
            self._on = False

    # What can be asked for ------------------------------------------------------------------------------------------

    def _do_alive(self, command: dict[str, Any]) -> None:
        pass

    def _do_quit(self, command: dict[str, Any]) -> None:
        self._on = False

    def _do_open(self, command: dict[str, Any]) -> None:
        """Open the port `name` as out, lead (outputs), in or follow (inputs), or close that role when it is empty."""
        role, name = command["role"], command["name"]
        if not name:
            self._ports.close(role)
            return
        # Opening may take a while on some systems; we are alive all the same.
        self._say({"is": "opening"})
        try:
            full = self._ports.open(role, name)
        except Refused as refused:
            self._say({"is": "refused", "role": role, "name": name, "why": str(refused)})
            return
        self._say({"is": "alive"})
        if role == "out":
            # Whatever an earlier run left sounding ends here.
            self._ports.silence(everywhere=True)
            self._hush_again = HUSHES
        if role == "follow":
            self._leader.begin(time.monotonic())
        self._say({"is": "open", "role": role, "name": full})

    def _received(self, role: str, data: bytes) -> None:
        """Runs on the library's thread: hand it to our own and return."""
        self._inbox.put({"do": "heard", "role": role, "data": data, "at": time.monotonic()})

    def _do_heard(self, command: dict[str, Any]) -> None:
        """An input spoke."""
        data, at = command["data"], command["at"]
        if command["role"] == "in" and data[0] < SYSTEM:
            self._say({"is": "in", "data": data.hex(), "at": at})
        elif command["role"] == "follow" and (news := self._leader.hear(data, at)):
            self._say(news)

    def _do_lead(self, command: dict[str, Any]) -> None:
        """Tell followers a place now, and again and again while nothing is played."""
        self._leads = place_messages(command["song"], command["sixteenth"])
        self._repeat_place(time.monotonic())

    def _repeat_place(self, now: float) -> None:
        self._lead_again = now + LEAD_AGAIN
        for data in self._leads:
            self._send(data)

    def _do_more(self, command: dict[str, Any]) -> None:
        self._collected += [(seconds, bytes.fromhex(data)) for seconds, data in command["messages"]]

    def _do_play(self, command: dict[str, Any]) -> None:
        """Play what was collected, from `begin` on (monotonic seconds) or at once."""
        self._do_silence({})
        performance = Performance(
            tuple(self._collected),
            tuple(Mark(*mark) for mark in command["marks"]),
            tuple(Loop(*loop) for loop in command["loops"]),
            command["seconds"],
        )
        self._collected = []
        self._playing = Playing(performance, max(command.get("begin") or 0.0, time.monotonic()))

    def _do_sound(self, command: dict[str, Any]) -> None:
        """Sound a chord, each key with its velocity, until the next one or for `seconds`."""
        port = self._ports.instrument
        if port is None:
            return
        port.strike(dict(command["notes"]), command["channel"], command["legato"])
        self._release_at = time.monotonic() + command["seconds"] if command["seconds"] else None

    def _do_send(self, command: dict[str, Any]) -> None:
        for data in command["messages"]:
            self._send(bytes.fromhex(data))

    def _do_sensing(self, command: dict[str, Any]) -> None:
        """Send active sensing from the next note on, or leave it."""
        self._sense_at = 0.0 if command["on"] else None

    def _do_cue(self, command: dict[str, Any]) -> None:
        if self._playing:
            self._playing = leave_loop(self._playing)

    def _do_silence(self, command: dict[str, Any]) -> None:
        """Stop playing and let nothing sound on the channels that were used."""
        self._halt()
        self._ports.silence()

    _do_stop = _do_silence

    def _halt(self) -> None:
        self._playing, self._release_at = None, None
        if self._running:
            self._send(bytes((STOP,)))

    def _do_panic(self, command: dict[str, Any]) -> None:
        """As silence, on all sixteen channels."""
        self._halt()
        self._ports.silence(everywhere=True)
