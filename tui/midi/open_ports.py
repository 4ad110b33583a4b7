"""The ports that the clock process has open, each for its role: out and lead to send through, in and follow to hear."""

import contextlib
import time
from collections.abc import Callable
from typing import Any

from tui.midi.ports import matching, open_input, open_output
from tui.midi.sounding import SYSTEM, SoundingPort

DRAIN = 0.05
"""Seconds that a sound server is given to take the last messages before a port is closed."""


class OpenPorts:
    """`received` is called on the library's thread with a role and a message that came in."""

    def __init__(self, received: Callable[[str, bytes], None]) -> None:
        self._received = received
        self._outputs: dict[str, SoundingPort] = {}
        self._inputs: dict[str, tuple[str, Any]] = {}
        self._names: dict[str, str] = {}

    def open(self, role: str, name: str) -> str:
        """Open the port that is meant by `name` and return its full name; a role that is in use is closed first.

        Raises:
            Refused: it cannot be opened.
        """
        self.close(role)
        if role in ("out", "lead"):
            return self._open_output(role, name)
        full, close = open_input(name, lambda data: self._received(role, data))
        self._inputs[role] = (full, close)
        return full

    def _open_output(self, role: str, name: str) -> str:
        """Open an output; one port for both roles is opened once, since some systems allow no more."""
        for other, full in self._names.items():
            if matching(name, [full]):
                self._names[role], self._outputs[role] = full, self._outputs[other]
                return full
        full, output = open_output(name)
        self._names[role], self._outputs[role] = full, SoundingPort(output)
        return full

    def close(self, role: str) -> None:
        """Silence and close what a role has open."""
        self._names.pop(role, None)
        port = self._outputs.pop(role, None)
        if port and port not in self._outputs.values():
            port.silence()
            time.sleep(DRAIN)
            port.close()
        if entry := self._inputs.pop(role, None):
            entry[1]()

    def close_all(self) -> None:
        for role in [*self._outputs, *self._inputs]:
            with contextlib.suppress(OSError, RuntimeError):
                self.close(role)

    def listens_to(self, role: str) -> str:
        """Return the full name of the input a role has open, "" for none."""
        return self._inputs[role][0] if role in self._inputs else ""

    @property
    def instrument(self) -> SoundingPort | None:
        """The port that plays."""
        return self._outputs.get("out")

    @property
    def sounds(self) -> bool:
        return any(port.sounding for port in self._outputs.values())

    def send(self, data: bytes) -> None:
        """Send a message to the instrument, a system message to the copies that are led."""
        port = self._outputs.get("lead" if data[0] >= SYSTEM else "out")
        if port:
            port.send(data)

    def sense(self) -> None:
        """Tell the instrument that we are still here, once it has been played."""
        if port := self.instrument:
            port.sense()

    def release(self) -> None:
        """Send the note-offs that the instrument is owed."""
        if port := self.instrument:
            port.release()

    def silence(self, everywhere: bool = False) -> None:
        """Stop all sound on the channels that were used, or on all sixteen."""
        for port in self._outputs.values():
            port.silence(everywhere)
