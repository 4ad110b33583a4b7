"""The ways the program ends other than by its own key: signals, a terminal that is gone, a bug."""

import asyncio
import contextlib
import select
import signal
import sys
import traceback
from collections.abc import Callable

TERMINATED = 143
"""Exit code after SIGTERM: 128 + 15, as shells count. Source: POSIX, shell command language, exit status."""

HUNG_UP, INTERRUPTED = 129, 130
"""The same after SIGHUP and SIGINT."""


def catch_signals(end: Callable[[int], None], every: Callable[[float, Callable[[], None]], object]) -> None:
    """Let a signal, or a terminal that is gone, end the program in good order: saved and silent.

    `end` is called with the exit code; `every` calls back again and again after so many seconds.
    """
    loop = asyncio.get_running_loop()
    for name, code in (("SIGTERM", TERMINATED), ("SIGHUP", HUNG_UP), ("SIGINT", INTERRUPTED)):
        number = getattr(signal, name, None)
        if number is not None:
            with contextlib.suppress(NotImplementedError, ValueError, RuntimeError):
                loop.add_signal_handler(number, end, code)
    if sys.__stdin__ is not None and sys.__stdin__.isatty():
        every(2.0, lambda: end(HUNG_UP) if hung_up() else None)


def hung_up() -> bool:
    """Return whether nobody is at the other end of a terminal any more.

    Reading then gives nothing at once, for ever: a program that goes on keeps a processor busy until it is found.
    """
    try:
        if sys.__stdin__ is None or not hasattr(select, "poll"):
            return False
        looked = select.poll()
        looked.register(sys.__stdin__.fileno(), 0)
        return any(event & select.POLLHUP for _, event in looked.poll(0))
    except (OSError, ValueError):
        return False


def kept_report() -> str:
    """Keep the report of the bug that is being handled in a file; return in words where it lies."""
    from tui.persistence import store

    path = store.data_folder() / "report.txt"
    try:
        store.save(path, traceback.format_exc())
        where = f"the report lies in {path}"
    except store.StoreError:
        where = traceback.format_exc()
    return f"stillhand had to stop: that is a fault of ours, your set and place are kept. {where}"
