"""Whether the sound server that a MIDI library talks to is still there.

A server that ends tells nobody: names are listed from memory and messages go nowhere (seen with JACK, also when it has
been started again). What shows it is the library's own connection, which the system closes: a socket of this process
that was open and is not any more.
"""

import os


class ServerWatch:
    """Watches the sockets of this process. Where the system does not list them nothing is ever gone."""

    def __init__(self) -> None:
        self._known = sockets()

    def begin(self) -> None:
        """Look anew, since ports have been opened or closed."""
        self._known = sockets()

    @property
    def gone(self) -> bool:
        """True when a connection has been closed that was open before."""
        return not self._known <= sockets()


def sockets() -> frozenset[str]:
    """Return the sockets that this process has open."""
    found = set()
    try:
        for number in os.listdir("/proc/self/fd"):
            try:
                target = os.readlink(f"/proc/self/fd/{number}")
            except OSError:
                continue
            if target.startswith("socket:"):
                found.add(f"{number} {target}")
    except OSError:
        return frozenset()
    return frozenset(found)
