"""Silence sent in place of a clock process that is gone: by the process that lists the ports, which is there already.

The interface sees the clock's end at once and has this one send the note-offs that are owed and the controllers, long
before a new clock has started. Should interface and clock be killed together, the end of the pipe says so, and the port
is known from before. When all three go (the power fails, a cable is pulled), active sensing is the standard's own cure
(see `sounding`).
"""

import contextlib
import os
import queue
import sys
import threading
import time
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from tui.midi.messages import Charge, Hush, Silenced, from_line
from tui.midi.open_ports import DRAIN
from tui.midi.owed import silence_for_good
from tui.midi.ports import VIRTUAL, OpenedPort
from tui.midi.sound_book import SoundBook
from tui.midi.sounding import SoundingPort

PATIENCE = 3.0
"""Seconds in which a clock process that lives silences and goes by itself; it needs far less."""


class Guard:
    """What the interface has said last: the ports that sound, and the number of the clock's process."""

    def __init__(self, book: SoundBook | None = None) -> None:
        self.alone = threading.Event()
        """Set when the interface is gone or wants nothing more."""
        self.wake = threading.Event()
        """Set when there is something to do at once."""
        self.charge = Charge()
        self.clients: Sequence[Any] = ()
        """The MIDI library's outputs, not yet opened: the spare clock has one open. When two die that have a port
        connected, a JACK server stands still for half a second, whoever sends (measured)."""
        self._book = book or SoundBook()
        self._hushes: queue.SimpleQueue[Hush] = queue.SimpleQueue()

    def listen(self, lines: Iterable[bytes]) -> None:
        """Read what the interface says until it ends."""
        for line in lines:
            with contextlib.suppress(ValueError):
                message = from_line(line)
                if isinstance(message, Charge):
                    self.charge = message
                elif isinstance(message, Hush):
                    self._hushes.put(message)
                    self.wake.set()
        self.alone.set()
        self.wake.set()

    def hush(self, say: Callable[[Silenced], None]) -> None:
        """Silence what the interface has asked for. After a death the book is left as it is: the clock that comes sends
        what is owed again."""
        self.wake.clear()
        while not self._hushes.empty():
            wish = self._hushes.get()
            owed = self._book.note_offs()
            book = SoundBook() if wish.again else self._book
            if self._with_port(wish.out, partial(_silence, book=book, owed=owed)):
                say(Silenced(wish.number))

    def leave(self) -> None:
        """Silence the ports, unless the interface took leave of them; a clock that still lives goes first."""
        ports = tuple(name for name in self.charge.outs if not name.startswith(VIRTUAL))
        if not self.alone.is_set() or not ports:
            return
        end = time.monotonic() + PATIENCE
        killed = not lives(self.charge.clock)
        while time.monotonic() < end and lives(self.charge.clock):
            time.sleep(0.02)
        owed = self._book.note_offs()
        for out in ports:
            self._with_port(out, partial(_silence, book=self._book, owed=owed))
        for out in ports if killed else ():
            self._with_port(out, lambda client: silence_for_good((OpenedPort(client),), self._book, owed))

    def _with_port(self, out: str, use: Callable[[Any], None]) -> bool:
        """Use a client that has a port open; tell whether it could be opened.

        A client that is there already is used: a new one takes a JACK server a tenth of a second (measured).
        """
        for client in self.clients:
            try:
                names = client.get_ports()
                if out in names:
                    client.open_port(names.index(out), "out")
                    use(client)
                    client.close_port()
                    return True
            except (OSError, RuntimeError, ValueError):
                continue
        return False


def _silence(client: Any, book: SoundBook, owed: Iterable[bytes]) -> None:
    for data in owed:
        client.send_message(data)
    SoundingPort(OpenedPort(client), book).silence(everywhere=True)
    time.sleep(DRAIN)


def lives(number: int) -> bool:
    """True when there is a process of this number that has not ended; where that cannot be asked safely, True."""
    if sys.platform == "win32":
        return True  # There os.kill ends the process, whatever the signal.
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    # Where nobody takes note of orphans their numbers stay behind them (state Z of Linux).
    with contextlib.suppress(OSError, IndexError):
        return Path(f"/proc/{number}/stat").read_text().rpartition(")")[2].split()[0] not in "ZX"
    return True
