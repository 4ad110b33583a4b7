"""A process of our own that may crash or hang: messages both ways, and nothing here ever waits for it."""

import contextlib
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tui.midi.messages import from_line, to_line
from tui.processes import safe_environment, start_command

LOG_BYTES = 1_000_000
"""A log of this size is begun anew."""


class Child:
    """One run of a module's main() in a fresh interpreter. `heard` is when it last wrote (monotonic seconds).

    `on_message` is called with what it says and `on_end` once it says nothing any more, both from a thread of ours.
    """

    def __init__(
        self,
        module: str,
        on_message: Callable[[object], None],
        log: Path | None,
        *arguments: str,
        on_end: Callable[[], None] = lambda: None,
    ) -> None:
        with _opened(log) as errors:
            self._process = subprocess.Popen(
                start_command(module, *arguments),
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=errors,
                env=safe_environment(),
                start_new_session=True,  # Ctrl-C and a closing terminal reach us; the child hears of it from the pipe.
            )
        self.on_message, self._on_end = on_message, on_end
        self._outgoing: queue.SimpleQueue[object | None] = queue.SimpleQueue()
        self.heard = self.started = time.monotonic()
        self.spoke = False
        self._silent = False
        threading.Thread(target=self._read, name=f"{module} reader", daemon=True).start()
        threading.Thread(target=self._write, name=f"{module} writer", daemon=True).start()

    @property
    def pid(self) -> int:
        return self._process.pid

    @property
    def alive(self) -> bool:
        """False as soon as nothing more can be heard of it: a pipe ends a moment before the process has ended."""
        return not self._silent and self._process.poll() is None

    def send(self, message: object) -> None:
        """Hand a message over; returns at once, and a dead child loses it."""
        self._outgoing.put(message)

    def end(self) -> None:
        """Close the pipe: the child takes it as the sign to leave."""
        self._outgoing.put(None)

    def leave(self, seconds: float) -> None:
        """Close the pipe and wait up to `seconds` for the child to end by itself, then kill it."""
        self.end()
        try:
            self._process.wait(seconds)
        except subprocess.TimeoutExpired:
            self.kill()

    def kill(self) -> None:
        """End the child at once (it may hang inside a library, so it is not asked)."""
        self._process.kill()
        self._outgoing.put(None)
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._process.wait(2.0)

    def _read(self) -> None:
        assert self._process.stdout
        for raw in self._process.stdout:
            self.heard = time.monotonic()
            self.spoke = True
            try:
                message = from_line(raw)
            except ValueError:
                continue
            self.on_message(message)
        self._silent = True
        self._on_end()

    def _write(self) -> None:
        assert self._process.stdin
        pipe = self._process.stdin
        # Once it is gone all of this fails, closing too; whoever watches it sees that.
        with contextlib.suppress(OSError, ValueError), pipe:
            while (message := self._outgoing.get()) is not None:
                pipe.write(to_line(message))
                pipe.flush()


def _opened(log: Path | None) -> Any:
    """Return a file for the child's error stream: C libraries print there and would tear the screen."""
    if log is not None:
        try:
            log.parent.mkdir(parents=True, exist_ok=True)
            return log.open("ab" if not log.exists() or log.stat().st_size < LOG_BYTES else "wb")
        except OSError:
            pass
    return open("/dev/null" if sys.platform != "win32" else "nul", "ab")
