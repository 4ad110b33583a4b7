"""Reads the keys and draws, as Textual's own driver does, but outlives stray bytes, floods and a terminal that goes."""

import contextlib
import os
import select
import signal
import sys
import termios
from typing import IO, Any

from textual.app import App
from textual.drivers.linux_driver import LinuxDriver

from tui.terminal import HUNG_UP
from tui.terminal.input import Input
from tui.terminal.watch import Watch

AT_ONCE = 64
"""Bytes that are taken before the screen has caught up (own choice): what is typed faster waits in the terminal, where
it keeps no signal from being answered."""

LEFT = "\x1b[?1000l\x1b[?1003l\x1b[?1015l\x1b[?1006l\x1b[?1004l\x1b[?2004l\x1b[?7h\x1b[<u\x1b[?1049l\x1b[?25h"
"""No mouse, focus and paste reports, lines wrapped, usual keys and screen, cursor. Source: xterm's manual."""


class TerminalDriver(LinuxDriver):
    """The terminal that standard input and error are; lives as long as the application."""

    def __init__(self, app: App[Any], **options: Any) -> None:
        super().__init__(app, **options)
        self._file = self._terminal = _Lasting(sys.__stderr__)  # type: ignore[assignment]
        self.watch = Watch(self.fileno, lambda code: self._app.exit(return_code=code), self._give_back)

    def _sigtstp_application(self, *_: object) -> None:
        """Give the terminal back and stop, as Textual does; but not when nobody is left who could continue it."""
        if self._auto_restart:
            self.suspend_application_mode()
            self._must_signal_resume = True
        if not self.watch.ending:
            os.kill(os.getpid(), signal.SIGSTOP)

    def start_application_mode(self) -> None:
        # Textual begins anew when the process is continued, even if it was stopped without its knowledge: two threads
        # would then read the keys, and the first would never end.
        if self._key_thread is not None and self._key_thread.is_alive():
            self.disable_input()
            self.close()
        super().start_application_mode()  # type: ignore[no-untyped-call]

    def write(self, data: str) -> None:
        """Write to the terminal, if it was ever there."""
        if self._writer_thread is not None:
            super().write(data)

    def _run_input_thread(self) -> None:
        try:
            self.run_input_thread()
        except Exception as error:
            self._app.call_later(self._app._handle_exception, error)

    def run_input_thread(self) -> None:
        """Take in what comes until input is disabled or the terminal has gone."""
        read = Input()
        with contextlib.suppress(OSError):
            while not self.exit_event.is_set():
                if not select.select([self.fileno], [], [], 0.1)[0]:
                    messages = read.quiet()
                elif data := os.read(self.fileno, AT_ONCE):
                    messages = read.events(data, more=len(data) == AT_ONCE)
                else:
                    break
                for message in messages:
                    self.process_message(message)
                self._wait_for_screen()
        if not self.exit_event.is_set():
            self.watch.end(HUNG_UP)

    def _wait_for_screen(self) -> None:
        while self._behind() and not self.exit_event.wait(0.001):
            pass

    def _behind(self) -> bool:
        """Whether keystrokes wait to be taken."""
        return any(pump.message_queue_size for pump in (self._app, *self._app.screen_stack[-1:]))

    def _give_back(self) -> None:
        """Leave the terminal as it was found, from another thread and without waiting for anybody."""
        with contextlib.suppress(OSError, termios.error, ValueError):
            if self.attrs_before is not None:
                termios.tcsetattr(self.fileno, termios.TCSANOW, self.attrs_before)
            out = self._terminal.fileno()
            os.set_blocking(out, False)
            try:
                os.write(out, LEFT.encode())
            finally:
                os.set_blocking(out, True)


class _Lasting:
    """A terminal to write to; what is written after it has gone is lost without a fault."""

    def __init__(self, file: IO[str] | None) -> None:
        assert file is not None
        self._file = file

    def write(self, text: str) -> None:
        with contextlib.suppress(OSError, ValueError):
            self._file.write(text)

    def flush(self) -> None:
        with contextlib.suppress(OSError, ValueError):
            self._file.flush()

    def fileno(self) -> int:
        return self._file.fileno()

    def isatty(self) -> bool:
        return True
