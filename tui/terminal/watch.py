"""Ends the program on a signal or when the terminal has gone, whatever it is doing."""

import asyncio
import os
import select
import signal
import socket
import threading
import time
from collections.abc import Callable

from tui.terminal import HUNG_UP, INTERRUPTED, TERMINATED

CODES = {signal.SIGTERM: TERMINATED, signal.SIGHUP: HUNG_UP, signal.SIGINT: INTERRUPTED}

UNHEARD, UNFINISHED = 0.7, 2.5
"""Seconds after which it ends at once: when the loop does not answer any more, and when it is not done with saving."""


class Watch:
    """A thread beside the loop; one for each run in a terminal, until the process ends.

    `ask` is called in the loop with the exit code; `give_back` restores the terminal when the loop does not answer.
    """

    def __init__(self, terminal: int, ask: Callable[[int], None], give_back: Callable[[], None]) -> None:
        self._terminal, self._ask, self._give_back = terminal, ask, give_back
        self._loop = asyncio.get_running_loop()
        self._ending = threading.Lock()
        self._signals, ours = socket.socketpair()
        ours.setblocking(False)
        for number in CODES:
            signal.signal(number, lambda *_: None)
        # The number is written in the moment a signal comes, even while Python is busy elsewhere.
        signal.set_wakeup_fd(ours.fileno(), warn_on_full_buffer=False)
        self._ours = ours
        threading.Thread(target=self._run, name="terminal-watch", daemon=True).start()

    def end(self, code: int) -> None:
        """Ask for the end, and see to it that it comes."""
        threading.Thread(target=self._end, args=(code,), name="terminal-end", daemon=True).start()

    def _run(self) -> None:
        poll = select.poll()
        poll.register(self._signals, select.POLLIN)
        poll.register(self._terminal, 0)
        while True:
            for file, event in poll.poll():
                if file == self._terminal:
                    poll.unregister(file)
                    # Some systems cannot poll a terminal; there the thread that reads the keys finds it gone.
                    if event & select.POLLHUP:
                        self.end(HUNG_UP)
                else:
                    for number in self._signals.recv(64):
                        if number in CODES:
                            self.end(CODES[signal.Signals(number)])

    @property
    def ending(self) -> bool:
        """Whether the end has been asked for."""
        return self._ending.locked() or hung_up(self._terminal)

    def _end(self, code: int) -> None:
        if not self._ending.acquire(blocking=False):
            return
        until = time.monotonic() + UNFINISHED
        answers = self._answers(lambda: self._ask(code))
        while answers and time.monotonic() < until:
            time.sleep(0.1)
            answers = self._answers(lambda: None)
        self._give_back()
        os._exit(code)

    def _answers(self, call: Callable[[], None]) -> bool:
        """Tell whether the loop makes a call in time; one that is closed need not, the process is leaving."""
        heard = threading.Event()

        def answer() -> None:
            heard.set()
            call()

        try:
            self._loop.call_soon_threadsafe(answer)
        except RuntimeError:
            return True
        return heard.wait(UNHEARD)


def hung_up(terminal: int) -> bool:
    """Return whether nobody is at the other end of a terminal any more."""
    poll = select.poll()
    poll.register(terminal, 0)
    return any(event & select.POLLHUP for _, event in poll.poll(0))
