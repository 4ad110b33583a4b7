"""A real process in a pseudo-terminal, read through a terminal emulator as a person would read it."""

import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

import pyte

ROOT = Path(__file__).parents[2]
_UNKNOWN = re.compile(rb"\x1b\[[<>=?][0-9;]*[a-zA-Z$]{1,2}(?<![hl])")
"""Sequences that the emulator prints instead of ignoring them."""


class Terminal:
    """Runs `python -m tui ARGUMENTS`, or other code, in a terminal of its own; `before` is a command that runs it."""

    def __init__(
        self,
        *arguments: str,
        size: tuple[int, int] = (80, 24),
        code: str = "",
        folder: Path = ROOT,
        before: tuple[str, ...] = (),
        **environment: str,
    ) -> None:
        self.raw = b""
        self.screen = pyte.Screen(*size)
        self._stream = pyte.ByteStream(self.screen)
        ours, theirs = pty.openpty()
        self.file = ours
        self._resize(*size)
        keep = {"PATH", "HOME", "STILLHAND_HOME", "LANG"}
        environ = {name: value for name, value in os.environ.items() if name in keep}
        environ |= {"TERM": "xterm-256color", "PYTHONPATH": str(ROOT), "LANG": "C.UTF-8", "TEXTUAL_ANIMATIONS": "none"}
        command = [sys.executable, "-c", code] if code else [sys.executable, "-m", "tui"]
        self.process = subprocess.Popen(
            [*before, *command, *arguments],
            stdin=theirs,
            stdout=theirs,
            stderr=theirs,
            env=environ | environment,
            cwd=folder,
            start_new_session=True,
            close_fds=True,
        )
        os.close(theirs)

    def _resize(self, width: int, height: int) -> None:
        fcntl.ioctl(self.file, termios.TIOCSWINSZ, struct.pack("HHHH", height, width, 0, 0))

    def resize(self, width: int, height: int) -> None:
        self._resize(width, height)
        self.screen.resize(height, width)
        os.killpg(self.process.pid, signal.SIGWINCH)

    def read(self, seconds: float = 0.05) -> None:
        """Take what the process writes, for at most `seconds` after the last byte."""
        while select.select([self.file], [], [], seconds)[0]:
            try:
                data = os.read(self.file, 65536)
            except OSError:
                return
            if not data:
                return
            self.raw += data
            self._stream.feed(_UNKNOWN.sub(b"", data))

    def press(self, keys: str) -> None:
        os.write(self.file, keys.encode())

    def paste(self, data: bytes) -> None:
        """Write as fast as the terminal takes it, reading what is drawn meanwhile."""
        while data:
            if select.select([], [self.file], [], 5.0)[1]:
                data = data[os.write(self.file, data[:1024]) :]
            self.read(0)

    @property
    def text(self) -> str:
        return "\n".join(self.screen.display)

    def wait_for(self, words: str, seconds: float = 20.0) -> str:
        """Wait until the screen shows `words`."""
        until = time.monotonic() + seconds
        while words not in self.text:
            self.read()
            if time.monotonic() > until or (self.process.poll() is not None and words not in self.text):
                self.read()
                assert words in self.text, f"{words!r} is not shown:\n{self.text}"
        return self.text

    def end(self, seconds: float = 15.0) -> int:
        """Wait for the process to end; return its exit code."""
        until = time.monotonic() + seconds
        while self.process.poll() is None and time.monotonic() < until:
            self.read()
        self.read()
        return self.process.wait(timeout=1)

    def vanish(self) -> None:
        """Go without a word, as a lost connection does."""
        os.close(self.file)
        self.file = -1

    def close(self) -> None:
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()
        if self.file >= 0:
            os.close(self.file)

    def __enter__(self) -> "Terminal":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @property
    def restored(self) -> bool:
        """True when the alternate screen was left and the cursor shown again."""
        left, shown = self.raw.rfind(b"\x1b[?1049l"), self.raw.rfind(b"\x1b[?25h")
        return left > self.raw.rfind(b"\x1b[?1049h") and shown > self.raw.rfind(b"\x1b[?25l")
