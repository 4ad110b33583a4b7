"""Real MIDI ports by name, on every system the library was built for. Used only in processes that may crash."""

import re
import sys
from collections.abc import Callable
from typing import Any

from tui.midi.sounding import Output

Received = Callable[[bytes], None]


VIRTUAL = "virtual:"
"""Before the name of a port that is made, so that others connect to it, instead of found."""


class Refused(Exception):
    """A port that cannot be opened; the words are for the player."""


def matching(wanted: str, names: list[str]) -> str | None:
    """Return the name that is meant: itself, itself under another address, or the only one that contains it.

    ALSA ends a name with an address that changes when a device is plugged in again ("Piano:Piano MIDI 1 20:0").
    """
    if wanted in names:
        return wanted
    same = [name for name in names if without_address(name) == without_address(wanted)]
    part = [name for name in names if wanted.lower() in name.lower()]
    return same[0] if same else part[0] if len(part) == 1 and wanted.strip() else None


def foreign(names: list[str]) -> list[str]:
    """Return the names without our own clients, which would otherwise be offered as instruments."""
    return [name for name in names if not re.match(r"stillhand( looks)?(-\d+)?:", name)]


def without_address(name: str) -> str:
    """Return a port's name without the numbers (client:port) that ALSA puts behind it and that change with plugging."""
    return re.sub(r" \d+:\d+$", "", name)


class _Out:
    def __init__(self, port: Any) -> None:
        self._port = port

    def send(self, data: bytes) -> None:
        self._port.send_message(data)

    def close(self) -> None:
        self._port.close_port()
        self._port.delete()


def open_output(wanted: str, client: str = "stillhand") -> tuple[str, Output]:
    """Open an output by name (`virtual:NAME` makes one for others to find); returns its full name and the port.

    Raises:
        Refused: no such port, no MIDI on this system, no permission, or the library is absent.
    """
    name, port = _open("MidiOut", wanted, client)
    return name, _Out(port)


def open_input(wanted: str, received: Received, client: str = "stillhand") -> tuple[str, Callable[[], None]]:
    """Open an input by name; `received` is called on the library's own thread. Returns the full name and a close.

    Raises:
        Refused: as `open_output`.
    """
    name, port = _open("MidiIn", wanted, client, lambda message, _: received(bytes(message[0])))

    def close() -> None:
        port.cancel_callback()
        port.close_port()
        port.delete()

    return name, close


def _open(kind: str, wanted: str, client: str, callback: Callable[[Any, Any], None] | None = None) -> tuple[str, Any]:
    try:
        import rtmidi
    except ImportError:
        raise Refused("MIDI library not installed: pip install python-rtmidi") from None
    trouble, found = "", False
    new = wanted.partition(VIRTUAL)[2]
    client = f"{client} leads" if new else client
    for api in rtmidi.get_compiled_api():
        port = None
        try:
            port = getattr(rtmidi, kind)(api, client)
            found = True
            name = new or matching(wanted, port.get_ports())
            if name is None:
                port.delete()
                continue
            if callback is not None:
                port.ignore_types(sysex=True, timing=False, active_sense=True)
                port.set_callback(callback)
            if new:
                port.open_virtual_port(new)
                return wanted, port
            port.open_port(port.get_ports().index(name), "in" if kind == "MidiIn" else "out")
            return name, port
        except (OSError, RuntimeError, ValueError, TypeError, NotImplementedError) as error:
            trouble = str(error)
            if port is not None:
                port.delete()
            print(f"{kind} {wanted}: {error}", file=sys.stderr)
    if not found:
        raise Refused("this system offers no MIDI")
    raise Refused(trouble or "it is not connected")
