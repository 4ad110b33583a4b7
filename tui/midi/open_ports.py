"""The ports that the clock process has open, each for its role: out, click and lead to send through, in and follow to
hear."""

import contextlib
import time
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from tui.midi.owed import silence_for_good
from tui.midi.ports import matching, open_input, open_output
from tui.midi.sound_book import SoundBook
from tui.midi.sounding import SYSTEM, Output, SoundingPort

DRAIN = 0.05
"""Seconds that a sound server is given to take the last messages before a port is closed."""


SENDING = ("out", "lead")
"""Roles that are sent through: the instrument, another one for the click alone, the copies we lead."""

CLICK_CHANNEL = 10
"""Percussion. Source: General MIDI System Level 1."""


class OpenPorts:
    """`received` is called on the library's thread with a role and a message that came in. `sinks` are outputs that are
    no MIDI ports, by the name they are opened by; `book` keeps what sounds on the instrument."""

    def __init__(
        self,
        received: Callable[[str, bytes], None],
        book: SoundBook | None = None,
        sinks: Mapping[str, Callable[[], Output]] | None = None,
    ) -> None:
        self._received = received
        self._book = book or SoundBook()
        self._sinks = dict(sinks or {})
        self._outputs: dict[str, SoundingPort] = {}
        self._inputs: dict[str, tuple[str, Any]] = {}
        self._names: dict[str, str] = {}

    def open(self, role: str, name: str) -> str:
        """Open the port that is meant by `name` and return its full name; a role that is in use is closed first.

        Raises:
            Refused: it cannot be opened.
        """
        self.close(role)
        if role in SENDING:
            return self._open_output(role, name)
        full, close = open_input(name, lambda data: self._received(role, data), timing=role == "follow")
        self._inputs[role] = (full, close)
        return full

    def _open_output(self, role: str, name: str) -> str:
        """Open an output; one port for several roles is opened once, since some systems allow no more."""
        for other, full in self._names.items():
            if other != role and matching(name, [full]):
                self._names[role], self._outputs[role] = full, self._outputs[other]
                return full
        full, output = (name, self._sinks[name]()) if name in self._sinks else open_output(name)
        self._names[role] = full
        self._outputs[role] = SoundingPort(output, self._book if role == "out" else None)
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
    def sounding(self) -> tuple[tuple[int, int], ...]:
        """The (channel, key) pairs that sound on the instrument."""
        return self._book.sounding

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

    def keep_only(self, notes: Iterable[bytes]) -> None:
        """Let these note-ons sound on the instrument and nothing else; keys that sound already are not struck again."""
        if port := self.instrument:
            wanted = {((data[0] & 0x0F) + 1, data[1]): data for data in notes}
            port.release(keep=set(wanted))
            for place, data in wanted.items():
                if place not in port.sounding:
                    port.send(data)

    def strike(self, notes: dict[int, int], channel: int, legato: bool) -> None:
        """Sound a chord (key -> velocity) on the instrument in place of the one before."""
        if port := self.instrument:
            port.strike(notes, channel, legato)

    def release(self) -> None:
        """Send the note-offs that the instruments are owed."""
        for port in self._instruments():
            port.release()

    def silence(self, everywhere: bool = False) -> None:
        """Stop all sound of the instruments on the channels that were used, or on all sixteen."""
        for port in self._instruments():
            port.silence(everywhere)

    def silence_for_good(self) -> None:
        """Silence the instruments for the last time, more than once (see owed)."""
        for port in self._instruments():
            silence_for_good(port.output, self._book)

    def note_offs(self) -> tuple[bytes, ...]:
        """Return the note-offs that the instrument is owed."""
        return self._book.note_offs()

    def send_again(self, data: bytes) -> None:
        """Send the instrument a note-off that it has had already, should that have been lost."""
        if port := self.instrument:
            port.send_again(data)

    def _instruments(self) -> set[SoundingPort]:
        return {port for role, port in self._outputs.items() if role != "lead"}
