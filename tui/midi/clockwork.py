"""What the clock's process does from moment to moment: it obeys the interface and sends what is due.

Absolute deadlines on the monotonic clock: it sleeps until shortly before one, then looks at the clock until it comes.
"""

import os
import queue
import sys
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import replace

from engine.performance.events import Timed
from engine.performance.following import CONTINUE, START, STOP, place_messages
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
from tui.midi.followed import Followed
from tui.midi.input_filter import STILL, InputFilter
from tui.midi.open_ports import CLICK_CHANNEL, OpenPorts
from tui.midi.ports import Refused
from tui.midi.server_watch import ServerWatch
from tui.midi.sound_book import SoundBook
from tui.midi.sounding import SYSTEM, Output

SPIN = 0.001
"""The last millisecond before a deadline is not slept. Own measurement: 0.04 to 0.07 ms late at the 99th percentile."""

HEARTBEAT = 0.25
"""Seconds between signs of life, both ways."""

ABANDONED = 3.0
"""Without a sign of life from the interface for this many seconds (it is suspended) everything is silenced."""

SENSE = 0.2
"""Seconds between two active sensing messages: a receiver waits for 0.3. Source: MIDI 1.0 Detailed Specification."""

LEAD_AGAIN = 1.0
"""Seconds after which a standing leader repeats its place, for followers that came late."""

ORPHANED = 0.5
"""Seconds between the two silences of a clock whose interface has died."""

_LEAVE = object()
_WAKE = object()


class Clockwork:
    """The state of the process: the open ports and what is being played."""

    def __init__(
        self,
        out_fd: int,
        book: SoundBook | None = None,
        sinks: Mapping[str, Callable[[], Output]] | None = None,
    ) -> None:
        self._out_fd = out_fd
        self._inbox: queue.SimpleQueue[object] = queue.SimpleQueue()
        self._panics: queue.SimpleQueue[said.Panic] = queue.SimpleQueue()
        self._inputs = InputFilter(lambda: self._inbox.put(_WAKE))
        self._ports = OpenPorts(self._received, book, sinks)
        self._server = ServerWatch()
        self._playing: Playing | None = None
        self._then: Performance | None = None
        self._muted = False
        self._collected: list[Timed] = []
        self._release_at: float | None = None
        self._leader = Followed()
        self._leads: tuple[bytes, ...] = ()
        self._lead_again = 0.0
        self._running = False
        self._heard = time.monotonic()
        self._next_sign = 0.0
        self._sense_at: float | None = 0.0
        self._parent = os.getppid()
        self._on = True
        self._lost = False

    def run(self) -> None:
        """Obey and play until told to go."""
        threading.Thread(target=self._read_commands, daemon=True).start()
        try:
            while self._on:
                self._obey_next()
                self._play()
                self._live()
        finally:
            # Closing a port whose server has gone may hang or crash, and reaches nobody.
            if not self._lost:
                self._silence_orphaned()
                self._ports.close_all()

    def _silence_orphaned(self) -> None:
        """Silence twice when the interface has died, maybe with others: a JACK server that has lost clients may lose
        what it is sent in that moment (seen in 2 of 60 kills)."""
        if os.getppid() == self._parent:
            return
        owed = self._ports.note_offs()
        self._ports.silence(everywhere=True)
        time.sleep(ORPHANED)
        for data in owed:
            self._ports.send_again(data)
        self._ports.silence(everywhere=True)

    def _read_commands(self) -> None:
        for line in sys.stdin.buffer:
            try:
                command = said.from_line(line)
            except ValueError as error:
                print(error, file=sys.stderr)
                continue
            if isinstance(command, said.Panic):
                # Silence overtakes whatever else is waiting.
                self._panics.put(command)
                command = _WAKE
            self._inbox.put(command)
        self._inbox.put(_LEAVE)

    def _obey_next(self) -> None:
        """Wait for a command, but not longer than until just before the next deadline."""
        wait = min(self._deadlines()) - time.monotonic() - SPIN
        try:
            command = self._inbox.get(timeout=wait) if wait > 0 else self._inbox.get_nowait()
        except queue.Empty:
            command = None
        while not self._panics.empty():
            self._panic(self._panics.get())
        self._take_inputs()
        if command is _LEAVE:
            self._on = False
        elif command is not None and command is not _WAKE:
            self._heard = time.monotonic()
            self._obey(command)

    def _obey(self, command: object) -> None:
        match command:
            case said.Open(role, name):
                self._open(role, name)
            case said.More(messages):
                self._collected += messages
            case said.Play(rest, begin):
                self._begin(rest, begin)
            case said.GoOn(rest):
                self._go_on(rest)
            case said.Mute():
                self._mute()
            case said.Strike():
                self._strike(command)
            case said.Send(messages):
                for data in messages:
                    self._send(data)
            case said.Lead(song, sixteenth):
                self._leads = place_messages(song, sixteenth)
                self._repeat_place(time.monotonic())
            case said.Sensing(on):
                self._sense_at = 0.0 if on else None
            case said.Cue() if self._playing:
                self._playing = leave_loop(self._playing)
            case said.Silence():
                self._silence()

    # What is due ----------------------------------------------------------------------------------------------------

    def _deadlines(self) -> list[float]:
        due = next_due(self._playing) if self._playing else None
        held = time.monotonic() + STILL if self._inputs.pending else None
        return [self._next_sign] + [at for at in (due, held, self._release_at, self._sense_at) if at is not None]

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
        if self._server.gone:
            self._lost, self._on = True, False
            return
        self._say(said.Alive())
        if news := self._leader.look(now):
            self._say(news)
        if self._leads and self._playing is None and now >= self._lead_again:
            self._repeat_place(now)
        leader = self._ports.listens_to("follow")
        if leader and not self._busy() and self._leader.silent(now):
            self._open("follow", leader)
        if now - self._heard > ABANDONED and self._busy():
            self._silence()

    def _busy(self) -> bool:
        return self._playing is not None or self._ports.sounds

    def _say(self, message: object) -> None:
        """Tell the interface; when it does not read, the line is dropped rather than the beat."""
        try:
            os.write(self._out_fd, said.to_line(message))
        except BlockingIOError:
            pass
        except OSError:
            self._on = False

    # Ports ----------------------------------------------------------------------------------------------------------

    def _open(self, role: str, name: str) -> None:
        if name:
            # Opening may take a while on some systems; we are alive all the same.
            self._say(said.Opening())
            self._say(self._opened(role, name))
        else:
            self._ports.close(role)
        self._server.begin()

    def _opened(self, role: str, name: str) -> said.Opened | said.NotOpened:
        self._inputs.forget()
        try:
            full = self._ports.open(role, name)
        except Refused as refused:
            return said.NotOpened(role, str(refused))
        if role == "out" and (port := self._ports.instrument):
            # Whatever an earlier run left sounding ends here.
            port.silence(everywhere=True)
        if role == "follow":
            self._leader.begin(time.monotonic())
        return said.Opened(role, full)

    def _received(self, role: str, data: bytes) -> None:
        """Runs on the library's thread: hand it to our own and return."""
        self._inputs.receive(role, data, time.monotonic())

    def _take_inputs(self) -> None:
        """Pass on what the player's keyboard and the leader have said."""
        for role, data, at in self._inputs.take(time.monotonic()):
            if role == "in":
                self._say(said.Played(data, at))
            elif role == "follow" and (news := self._leader.hear(data, at)):
                self._say(news)

    def _repeat_place(self, now: float) -> None:
        self._lead_again = now + LEAD_AGAIN
        for data in self._leads:
            self._send(data)

    # Playing --------------------------------------------------------------------------------------------------------

    def _begin(self, rest: Performance, begin: float) -> None:
        self._silence()
        self._playing = Playing(self._whole(rest), max(begin, time.monotonic()))

    def _go_on(self, rest: Performance) -> None:
        whole = self._whole(rest)
        if self._playing is not None:
            self._then = whole

    def _whole(self, rest: Performance) -> Performance:
        messages, self._collected = tuple(self._collected), []
        return replace(rest, messages=messages)

    def _mute(self) -> None:
        if self._playing is not None:
            self._muted = True
            self._ports.release()

    def _strike(self, chord: said.Strike) -> None:
        port = self._ports.instrument
        if port is None:
            return
        port.strike(dict(chord.notes), chord.channel, chord.legato)
        self._release_at = time.monotonic() + chord.seconds if chord.seconds else None

    def _silence(self) -> None:
        self._halt()
        self._ports.silence()

    def _halt(self) -> None:
        self._playing = self._then = self._release_at = None
        self._muted = False
        if self._running:
            self._send(bytes((STOP,)))

    def _panic(self, panic: said.Panic) -> None:
        self._halt()
        self._ports.silence(everywhere=True)
        if self._ports.instrument is not None:
            self._say(said.Silenced(panic.number))
