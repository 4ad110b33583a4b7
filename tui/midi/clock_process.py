"""The clock's process: the only one that touches MIDI ports, and the one that keeps time (see clockwork).

It silences everything and goes when the pipe to the interface ends, on SIGTERM and on its own faults.
"""

import contextlib
import gc
import os
import signal
import sys
import traceback
from collections.abc import Callable, Mapping
from types import FrameType

from tui.midi.clockwork import Clockwork
from tui.midi.messages import SPARE
from tui.midi.ports import make_ready, unmake
from tui.midi.priority import go_first
from tui.midi.sound_book import opened_book, remove_book_file
from tui.midi.sounding import Output


def _leave(_signal: int, _frame: FrameType | None) -> None:
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    raise SystemExit(0)


def main(arguments: list[str], sinks: Mapping[str, Callable[[], Output]] | None = None) -> None:
    """Run the clock with commands on standard input and answers on standard output.

    Args:
        arguments: the file of the book of what sounds (see sound_book), "" for none; SPARE for one that stands by.
        sinks: outputs beside the MIDI ports, by the names they are opened by; called once when opened.
    """
    out_fd = os.dup(1)
    os.dup2(2, 1)  # A library that prints is not to be taken for us.
    with contextlib.suppress(AttributeError, OSError):
        os.set_blocking(out_fd, False)
    signal.signal(signal.SIGTERM, _leave)
    sys.setswitchinterval(0.0005)
    go_first()
    book = "".join(arguments[:1])
    if SPARE in arguments[1:]:
        make_ready()
    clock = Clockwork(out_fd, opened_book(book), sinks)
    gc.collect()
    gc.freeze()
    gc.disable()
    code = 1
    try:
        clock.run()
        if not clock.lost:
            unmake()
        code = 0
    except SystemExit:
        code = 0
    finally:
        if code:
            traceback.print_exc()
        if clock.deserted:
            remove_book_file(book)  # The interface cannot do it any more.
        # The library's own cleaning up may hang when a server has died; all has been said by now.
        sys.stderr.flush()
        os._exit(code)
