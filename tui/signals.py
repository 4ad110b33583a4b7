"""The ways the program ends other than by its own key: signals, a terminal that is gone, a bug."""

import asyncio
import contextlib
import signal
import sys
import traceback
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.app import StandApp

TERMINATED = 143
"""Exit code after SIGTERM: 128 + 15, as shells count. Source: POSIX, shell command language, exit status."""

HUNG_UP, INTERRUPTED = 129, 130
"""The same after SIGHUP and SIGINT."""


def catch_signals(app: "StandApp") -> None:
    """Let a signal, or a terminal that is gone, end the application in good order: saved and silent."""
    loop = asyncio.get_running_loop()
    for name, code in (("SIGTERM", TERMINATED), ("SIGHUP", HUNG_UP), ("SIGINT", INTERRUPTED)):
        number = getattr(signal, name, None)
        if number is not None:
            with contextlib.suppress(NotImplementedError, ValueError, RuntimeError):
                loop.add_signal_handler(number, _end, app, code)
    if sys.__stdin__ is not None and sys.__stdin__.isatty():
        app.set_interval(2.0, lambda: _end_if_hung_up(app))


def _end_if_hung_up(app: "StandApp") -> None:
    from tui.hung_up import hung_up

    if hung_up():
        _end(app, HUNG_UP)


def _end(app: "StandApp", code: int) -> None:
    app.exit(return_code=code)


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
