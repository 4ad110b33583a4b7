"""Real MIDI ports by name, on every system the library was built for. Used only in processes that may crash."""

import contextlib
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


class OpenedPort:
    """A port that the MIDI library has opened."""

    def __init__(self, port: Any) -> None:
        self._port = port

    def send(self, data: bytes) -> None:
        """Send one message."""
        self._port.send_message(data)

    def close(self) -> None:
        """Close it and let go of the library's client."""
        self._port.close_port()
        self._port.delete()


_ready: dict[int, Any] = {}
"""The library's outputs that are made and not used, by MIDI system."""


def make_ready(client: str = "stillhand") -> None:
    """Make an output of each MIDI system for the first port that is opened: with some servers that takes long."""
    with contextlib.suppress(ImportError):
        import rtmidi

        for api in rtmidi.get_compiled_api():
            with contextlib.suppress(OSError, RuntimeError, ValueError):
                _ready[api] = rtmidi.MidiOut(api, client)


def unmake() -> None:
    """Let go of what was made ready and not used."""
    while _ready:
        _ready.popitem()[1].delete()


def open_output(wanted: str, client: str = "stillhand") -> tuple[str, Output]:
    """Open an output by name (`virtual:NAME` makes one for others to find); returns its full name and the port.

    Raises:
        Refused: no such port, no MIDI on this system, no permission, or the library is absent.
    """
    name, port = _open("MidiOut", wanted, client)
    return name, OpenedPort(port)


def open_input(
    wanted: str, received: Received, client: str = "stillhand", timing: bool = True
) -> tuple[str, Callable[[], None]]:
    """Open an input by name; `received` is called on the library's own thread. Returns the full name and a close.

    Without `timing` the MIDI clock and time code of the instrument are left out.

    Raises:
        Refused: as `open_output`.
    """
    name, port = _open("MidiIn", wanted, client, lambda message, _: received(bytes(message[0])), timing)

    def close() -> None:
        port.cancel_callback()
        port.close_port()
        port.delete()

    return name, close


def _open(
    kind: str,
    wanted: str,
    client: str,
    callback: Callable[[Any, Any], None] | None = None,
    timing: bool = True,
) -> tuple[str, Any]:
    try:
        import rtmidi
    except ImportError:
        raise Refused("MIDI library not installed: pip install python-rtmidi") from None
    trouble, found = "", False
    listed: list[str] = []
    systems: list[str] = []
    new = wanted.partition(VIRTUAL)[2]
    client = f"{client} leads" if new else client
    for api in rtmidi.get_compiled_api():
        port = None
        try:
            made = None if new or kind != "MidiOut" else _ready.pop(api, None)
            port = made or getattr(rtmidi, kind)(api, client)
            found = True
            names = port.get_ports()
            name = new or matching(wanted, names)
            if name is None:
                listed += foreign(names)
                systems += [called] if (called := system_name(rtmidi, api)) else []
                port.delete()
                continue
            if callback is not None:
                port.ignore_types(sysex=True, timing=not timing, active_sense=True)
                port.set_callback(callback)
            if new:
                port.open_virtual_port(new)
                return wanted, port
            port.open_port(port.get_ports().index(name), "in" if kind == "MidiIn" else "out")
            return name, port
        except (OSError, RuntimeError, ValueError, TypeError, NotImplementedError) as error:
            if port is not None:
                trouble = str(error)
                port.delete()
            print(f"{kind} {wanted}: {error}", file=sys.stderr)
    if not found:
        raise Refused("this system offers no MIDI")
    raise Refused(trouble or not_found(wanted, listed, systems))


def not_found(wanted: str, names: list[str], systems: list[str]) -> str:
    """Return in words why no port is meant by a name: what there is instead, or which ones it could be."""
    could_be = [name for name in names if wanted.lower() in name.lower()]
    there = ", ".join(dict.fromkeys(map(without_address, could_be or names))) or "no port"
    where = f" ({' and '.join(systems)})" if systems else ""
    return f"it could be {there}{where}: say which" if could_be else f"it is not connected; there is {there}{where}"


def system_name(rtmidi: Any, api: int) -> str:
    """Return what a player knows a MIDI system by: ALSA, Jack, CoreMIDI, Windows MultiMedia."""
    try:
        return str(rtmidi.get_api_display_name(api))
    except (AttributeError, TypeError, ValueError):
        return ""
