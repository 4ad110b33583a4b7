"""A process of our own that may crash or hang: JSON lines both ways, and nothing here ever waits for it."""

import contextlib
import json
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tui.processes import safe_environment, start_command

LOG_BYTES = 1_000_000
"""A log of this size is begun anew."""

Line = dict[str, Any]


class Child:
    """One run of a module's main() in a fresh interpreter. `heard` is when it last wrote (monotonic seconds)."""

    def __init__(self, module: str, on_line: Callable[[Line], None], log: Path | None, *arguments: str) -> None:
        with _opened(log) as errors:
            self._process = subprocess.Popen(
                start_command(module, *arguments),
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=errors,
                env=safe_environment(),
                start_new_session=True,  # Ctrl-C and a closing terminal reach us; the child hears of it from the pipe.
            )
        self.on_line = on_line
        self._outgoing: queue.SimpleQueue[Line | None] = queue.SimpleQueue()
        self.heard = self.started = time.monotonic()
        self.spoke = False
        threading.Thread(target=self._read, name=f"{module} reader", daemon=True).start()
        threading.Thread(target=self._write, name=f"{module} writer", daemon=True).start()

    @property
    def pid(self) -> int:
        return self._process.pid

    @property
    def alive(self) -> bool:
        return self._process.poll() is None

    def send(self, line: Line) -> None:
        """Hand a line over; returns at once, and a dead child loses it."""
        self._outgoing.put(line)

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
                line = json.loads(raw)
            except ValueError:
                continue
            self.on_line(line)

    def _write(self) -> None:
        assert self._process.stdin
        pipe = self._process.stdin
        # Once it is gone all of this fails, closing too; whoever watches it sees that.
        with contextlib.suppress(OSError, ValueError), pipe:
            while (line := self._outgoing.get()) is not None:
                pipe.write(json.dumps(line).encode() + b"\n")
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
