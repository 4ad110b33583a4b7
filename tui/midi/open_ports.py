"""The ports that the clock process has open, each for its role: some to send through, in and follow to hear."""

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

SENDING = ("out", "beside", "click", "thru", "lead")
"""Roles that are sent through: the instrument, a second one that sounds the same, one for the click alone, one that
what the player plays is passed on to, the copies we lead."""

GUIDES = ("out", "beside")
"""Roles that chords are sounded through."""

CLICK_CHANNEL = 10
"""Percussion. Source: General MIDI System Level 1."""


class _Device:
    """An open output that several roles use: some systems allow a port to be opened only once."""

    def __init__(self, output: Output) -> None:
        self.output = output
        self.users = 0

    def send(self, data: bytes) -> None:
        self.output.send(data)

    def close(self) -> None:
        """One user fewer; the last one closes it."""
        self.users -= 1
        if not self.users:
            self.output.close()


class OpenPorts:
    """`received` is called on the library's thread with a role and a message that came in. `sinks` are outputs that are
    no MIDI ports, by the name they are opened by; `book` keeps what sounds on MIDI ports."""

    def __init__(
        self,
        received: Callable[[str, bytes], None],
        book: SoundBook | None = None,
        sinks: Mapping[str, Callable[[], Output]] | None = None,
    ) -> None:
        self._received = received
        self._book = book or SoundBook()
        self._sinks = dict(sinks or {})
        self._devices: dict[str, _Device] = {}
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
        used = [full for full, device in self._devices.items() if device.users and matching(name, [full])]
        if used:
            full, device = used[0], self._devices[used[0]]
        else:
            full, output = (name, self._sinks[name]()) if name in self._sinks else open_output(name)
            self._devices[full] = device = _Device(output)
        device.users += 1
        self._names[role] = full
        self._outputs[role] = SoundingPort(device, None if name in self._sinks else self._book)
        return full

    def close(self, role: str) -> None:
        """Silence and close what a role has open."""
        self._names.pop(role, None)
        if port := self._outputs.pop(role, None):
            port.silence()
            time.sleep(DRAIN)
            port.close()
        if entry := self._inputs.pop(role, None):
            entry[1]()

    def close_all(self) -> None:
        for role in [*self._outputs, *self._inputs]:
            with contextlib.suppress(OSError, RuntimeError):
                self.close(role)

    def has(self, role: str) -> bool:
        """True when a role has a port to send through."""
        return role in self._outputs

    def alone(self, role: str) -> bool:
        """True when no other role has the port of this one."""
        return list(self._names.values()).count(self._names.get(role, "")) == 1

    def listens_to(self, role: str) -> str:
        """Return the full name of the input a role has open, "" for none."""
        return self._inputs[role][0] if role in self._inputs else ""

    @property
    def sounding(self) -> tuple[tuple[int, int], ...]:
        """The (channel, key) pairs that sound on MIDI ports."""
        return self._book.sounding

    @property
    def sounds(self) -> bool:
        """True while something of ours sounds; what the player holds is the player's."""
        return any(port.sounding for role, port in self._outputs.items() if role != "thru")

    # Sending

    def send(self, data: bytes) -> None:
        """Send a message to the instruments, a click to its own port if it has one, a system message to the copies that
        are led."""
        if data[0] >= SYSTEM:
            roles: Iterable[str] = ("lead",)
        elif data[0] & 0x0F == CLICK_CHANNEL - 1 and "click" in self._outputs:
            roles = ("click",)
        else:
            roles = GUIDES
        for role in roles:
            self.send_to(role, data)

    def send_to(self, role: str, data: bytes) -> None:
        """Send a message through the port of one role, if it has one."""
        if port := self._outputs.get(role):
            port.send(data)

    def sense(self) -> None:
        """Tell the instruments that we are still here, those that have been played."""
        for port in self._instruments():
            port.sense()

    def strike(self, notes: dict[int, int], channel: int, legato: bool) -> None:
        """Sound a chord (key -> velocity) on the instruments in place of the one before."""
        for port in self._guides():
            port.strike(notes, channel, legato)

    def keep_only(self, notes: Iterable[bytes]) -> None:
        """Let these note-ons sound on the instruments and nothing else; keys that sound are not struck again."""
        wanted = {((data[0] & 0x0F) + 1, data[1]): data for data in notes}
        for port in self._guides():
            port.release(keep=set(wanted))
            for place, data in wanted.items():
                if place not in port.sounding:
                    port.send(data)

    # Silence

    def release(self) -> None:
        """Send the note-offs that are owed for what we sound."""
        for role, port in self._outputs.items():
            if role != "thru":
                port.release()

    def silence(self, everywhere: bool = False) -> None:
        """Stop all sound of ours on the channels that were used, or all sound whatever on all sixteen."""
        for port in self._instruments() if everywhere else [*self._guides(), *self._of("click")]:
            port.silence(everywhere)

    def silence_for_good(self) -> None:
        """Silence the instruments for the last time, more than once (see owed)."""
        owed = self.note_offs()
        devices = {full: device for full, device in self._devices.items() if device.users}
        for role, full in self._names.items():
            if role == "lead":
                devices.pop(full, None)
        self.silence(everywhere=True)
        silence_for_good(tuple(devices.values()), self._book, owed)

    def note_offs(self) -> tuple[bytes, ...]:
        """Return the note-offs that MIDI ports are owed."""
        return self._book.note_offs()

    def send_again(self, data: bytes) -> None:
        """Send a note-off that has been sent already, should that have been lost."""
        for port in self._instruments():
            port.send_again(data)

    def _of(self, *roles: str) -> list[SoundingPort]:
        return [self._outputs[role] for role in roles if role in self._outputs]

    def _guides(self) -> list[SoundingPort]:
        return self._of(*GUIDES)

    def _instruments(self) -> list[SoundingPort]:
        return self._of(*(role for role in SENDING if role != "lead"))
