"""Whether the terminal is still there: some go without a word (a lost connection, a window killed)."""

import select
import sys


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
