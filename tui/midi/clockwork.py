"""What the clock's process does from moment to moment: it obeys the interface, hears what comes in, says that it lives,
and lets the performer play. It sleeps until shortly before the next deadline."""

import contextlib
import faulthandler
import os
import queue
import sys
import threading
import time
from collections.abc import Callable, Mapping

from engine.performance.following import place_messages
from tui.midi import messages as said
from tui.midi.followed import Followed
from tui.midi.input_filter import STILL, InputFilter
from tui.midi.open_ports import SENDING, OpenPorts
from tui.midi.owed import Owed
from tui.midi.performer import SPIN, Performer
from tui.midi.ports import Refused, matching
from tui.midi.server_watch import ServerWatch
from tui.midi.sound_book import SoundBook
from tui.midi.sounding import Output
from tui.midi.thru import Thru

HEARTBEAT = 0.25
"""Seconds between signs of life, both ways."""

ABANDONED = 3.0
"""Without a sign of life from the interface for this many seconds (it is suspended) everything is silenced."""

HUNG = 20.0
"""Seconds after which a clock that does not come round any more ends by itself: a library that waits for a server that
has gone lets no other thread of ours run, and with the interface dead nobody else would notice. Longer than any port
takes to open."""

SENSE = 0.2
"""Seconds between two active sensing messages: a receiver waits for 0.3. Source: MIDI 1.0 Detailed Specification."""

THRU = 0.005
"""Seconds between two looks at what a flood has left waiting to be passed on."""

LEAD_AGAIN = 1.0
"""Seconds after which a standing leader repeats its place, for followers that came late."""

_LEAVE = object()
_WAKE = object()


class Clockwork:
    """The state of the process: the open ports, what comes in and what is told."""

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
        self._thru = Thru(lambda: self._inbox.put(_WAKE))
        self._ports = OpenPorts(self._received, book, sinks)
        self._server = ServerWatch()
        self._performer = Performer(self._ports, self._say)
        self._owed = Owed()
        self._stands_by = ""
        self._leader = Followed()
        self._leads: tuple[bytes, ...] = ()
        self._lead_again = 0.0
        self._heard = time.monotonic()
        self._next_sign = 0.0
        self._sense_at: float | None = 0.0
        self.deserted = False
        """True when the interface has died: nobody has said that we are to leave."""
        self._takes_leave = False
        self._on = True
        self.lost = False
        """True when the sound server has gone: its ports are not to be touched any more."""

    def run(self) -> None:
        """Obey and play until told to go."""
        threading.Thread(target=self._read_commands, daemon=True).start()
        try:
            while self._on:
                self._obey_next()
                self._performer.play()
                self._live()
        finally:
            # Closing a port whose server has gone may hang or crash, and reaches nobody.
            if not self.lost:
                if self.deserted:
                    # Maybe others have died with it (see owed).
                    self._ports.silence_for_good()
                self._ports.close_all()
            faulthandler.cancel_dump_traceback_later()

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
            self._on, self.deserted = False, not self._takes_leave
        elif isinstance(command, said.Leave):
            self._takes_leave = True
        elif command is not None and command is not _WAKE:
            self._heard = time.monotonic()
            self._obey(command)

    def _obey(self, command: object) -> None:
        match command:
            case said.Open(role, name):
                self._open(role, name)
            case said.StandBy(out):
                self._stand_by(out)
            case said.More(messages):
                self._performer.collect(messages)
            case said.Play(rest, begin):
                self._silence()
                self._performer.begin(rest, begin)
            case said.GoOn(rest):
                self._performer.go_on(rest)
            case said.Mute():
                self._performer.mute()
            case said.Strike():
                self._performer.strike(command)
            case said.Send(messages, role):
                for data in messages:
                    if role:
                        self._ports.send_to(role, data)
                    else:
                        self._ports.send(data)
            case said.Lead(song, sixteenth):
                self._leads = place_messages(song, sixteenth)
                self._repeat_place(time.monotonic())
            case said.Sensing(on):
                self._sense_at = 0.0 if on else None
            case said.Cue():
                self._performer.cue()
            case said.Silence():
                self._silence()

    # What is due ----------------------------------------------------------------------------------------------------

    def _deadlines(self) -> list[float]:
        held = time.monotonic() + STILL if self._inputs.pending else None
        passed = time.monotonic() + SPIN + THRU if self._thru.pending else None
        wished = (self._performer.due, held, passed, self._sense_at, self._owed.next)
        return [self._next_sign] + [at for at in wished if at is not None]

    def _live(self) -> None:
        now = time.monotonic()
        self._send_owed(now)
        if self._sense_at is not None and now >= self._sense_at:
            self._sense_at = now + SENSE
            self._ports.sense()
        if now < self._next_sign:
            return
        self._next_sign = now + HEARTBEAT
        faulthandler.dump_traceback_later(HUNG, exit=True)
        if self._server.gone:
            self.lost, self._on = True, False
            return
        self._say(said.Alive())
        if news := self._leader.look(now):
            self._say(news)
        if self._leads and not self._performer.plays and now >= self._lead_again:
            self._repeat_place(now)
        leader = self._ports.listens_to("follow")
        if leader and not self._busy() and self._leader.silent(now):
            self._open("follow", leader)
        if now - self._heard > ABANDONED and self._busy():
            self._silence()

    def _send_owed(self, now: float) -> None:
        """Send what a dead clock owed once more, and at last the controllers unless something plays."""
        if self._owed.next is None:
            return
        for data in self._owed.due(now, self._ports.sounding):
            self._ports.send_again(data)
        if self._owed.next is None and not self._busy():
            self._ports.silence(everywhere=True)

    def _busy(self) -> bool:
        return self._performer.plays or self._ports.sounds

    def _say(self, message: object) -> None:
        """Tell the interface; when it does not read, the line is dropped rather than the beat."""
        try:
            os.write(self._out_fd, said.to_line(message))
        except BlockingIOError:
            pass
        except OSError:
            self._on, self.deserted = False, not self._takes_leave

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
        ready, self._stands_by = self._stands_by, ""
        try:
            stands_by = role == "out" and bool(ready) and matching(name, [ready]) is not None
            full = ready if stands_by else self._ports.open(role, name)
        except Refused as refused:
            return said.NotOpened(role, str(refused))
        if role in SENDING and role != "lead" and self._ports.alone(role):
            self._end_what_was_left()
        if role == "follow":
            self._leader.begin(time.monotonic())
        return said.Opened(role, full)

    def _end_what_was_left(self) -> None:
        """End whatever an earlier run, or a clock that has died, left sounding."""
        owed = self._ports.note_offs()
        for data in owed:
            self._ports.send_again(data)
        self._ports.silence(everywhere=True)
        if owed:
            self._owed.begin(owed, time.monotonic())

    def _stand_by(self, out: str) -> None:
        self._ports.close("out")
        self._stands_by = ""
        if out:
            with contextlib.suppress(Refused):
                self._stands_by = self._ports.open("out", out)
        self._server.begin()

    def _received(self, role: str, data: bytes) -> None:
        """Runs on the library's thread: hand it to our own and return."""
        if role == "in" and self._ports.has("thru"):
            self._thru.receive(data)
        self._inputs.receive(role, data, time.monotonic())

    def _take_inputs(self) -> None:
        """Pass on what the player's keyboard and the leader have said: to the instrument first."""
        for data in self._thru.take(time.monotonic()):
            self._ports.send_to("thru", data)
        for role, data, at in self._inputs.take(time.monotonic()):
            if role == "in":
                self._say(said.Played(data, at))
            elif role == "follow" and (news := self._leader.hear(data, at)):
                self._say(news)

    def _repeat_place(self, now: float) -> None:
        self._lead_again = now + LEAD_AGAIN
        for data in self._leads:
            self._ports.send(data)

    # Silence --------------------------------------------------------------------------------------------------------

    def _silence(self) -> None:
        self._performer.halt()
        self._ports.silence()

    def _panic(self, panic: said.Panic) -> None:
        self._performer.halt()
        self._ports.silence(everywhere=True)
        if self._ports.has("out"):
            self._say(said.Silenced(panic.number))
