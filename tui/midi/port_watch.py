"""Says every second which MIDI ports there are, from a process that may crash or hang without harm."""

import os
import sys
import threading
from dataclasses import replace
from typing import Any

from tui.midi.guard import Guard
from tui.midi.messages import Ports, to_line
from tui.midi.ports import foreign, system_name
from tui.midi.server_watch import ServerWatch
from tui.midi.sound_book import opened_book, remove_book_file

SECONDS = 1.0
"""Between two answers."""

CLIENT = "stillhand looks"


def main(arguments: list[str]) -> None:
    """Print the ports once a second ("once": a single time), or "" and the file of the book of what sounds.

    It ends when its input does, and after an answer without any port: a new process finds a new server.
    When the clock has died it silences the instrument (see guard).
    """
    once, book = arguments[:1] == ["once"], "".join(arguments[1:2])
    guard = Guard(opened_book(book))
    if not once:
        threading.Thread(target=guard.listen, args=(sys.stdin.buffer,), daemon=True).start()
    outputs, inputs, ports = _clients()
    guard.clients = outputs
    server = ServerWatch()
    try:
        while True:
            # A server that is gone is asked nothing more: the library would answer from memory, or hang.
            gone = replace(ports, outputs=(), inputs=(), trouble="gone")
            ports = gone if server.gone else _listed(outputs, inputs, ports)
            _say(ports)
            if once or ports.trouble or not ports.outputs or _waited(guard):
                break
    except OSError:
        # Nobody reads any more; the end of the other pipe is on its way.
        guard.alone.wait(SECONDS)
    if not once:
        guard.leave()
        if guard.alone.is_set():
            remove_book_file(book)
    # A client that only vanishes stalls a JACK server for seconds (seen), so each takes its leave.
    for client in outputs + inputs if ports.trouble != "gone" else ():
        client.delete()
    if not once:
        # Nothing is left to do, and a library may hang in its own cleaning up.
        os._exit(0)


def _waited(guard: Guard) -> bool:
    """Wait until the next list is due, silencing what is asked for; tell whether the interface is gone."""
    while guard.wake.wait(SECONDS) and not guard.alone.is_set():
        guard.hush(_say)
    return guard.alone.is_set()


def _say(message: object) -> None:
    sys.stdout.buffer.write(to_line(message))
    sys.stdout.buffer.flush()


def _clients() -> tuple[list[Any], list[Any], Ports]:
    """Return (outputs, inputs, what is wrong): one client of each system that answers."""
    try:
        import rtmidi
    except ImportError as error:
        return [], [], Ports(trouble="library", detail=str(error))
    outputs, inputs, detail, systems = [], [], "", []
    for api in rtmidi.get_compiled_api():
        try:
            outputs.append(rtmidi.MidiOut(api, CLIENT))
            inputs.append(rtmidi.MidiIn(api, CLIENT))
            systems.append(system_name(rtmidi, api))
        except (OSError, RuntimeError, ValueError) as error:
            detail = str(error)
    return outputs, inputs, Ports(trouble="" if outputs else "system", detail=detail, systems=tuple(systems))


def _listed(outputs: list[Any], inputs: list[Any], before: Ports) -> Ports:
    try:
        sending = [name for client in outputs for name in client.get_ports()]
        hearing = [name for client in inputs for name in client.get_ports()]
    except (OSError, RuntimeError, ValueError) as error:
        return replace(before, outputs=(), inputs=(), trouble="system", detail=str(error))
    return replace(before, outputs=tuple(foreign(sending)), inputs=tuple(foreign(hearing)))
