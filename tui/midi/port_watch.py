"""Says every second which MIDI ports there are, from a process that may crash or hang without harm."""

import json
import os
import sys
import threading
from typing import Any

from tui.midi.guard import Guard
from tui.midi.ports import foreign

SECONDS = 1.0
"""Between two answers."""

CLIENT = "stillhand looks"


def main(arguments: list[str]) -> None:
    """Print one JSON object a second ("once": a single one): outputs, inputs, trouble ("", library, system), detail.

    It ends when its input does, and after an answer without any port: a library that has lost its server stays lost.
    When interface and clock have both died it has one thing left to do (see guard).
    """
    once = arguments[:1] == ["once"]
    guard = Guard()
    if not once:
        threading.Thread(target=guard.listen, args=(sys.stdin,), daemon=True).start()
    outputs, inputs, trouble, detail = _clients()
    try:
        while True:
            answer = _answer(outputs, inputs, trouble, detail)
            print(json.dumps(answer), flush=True)
            if once or answer["trouble"] or not answer["outputs"] or guard.alone.wait(SECONDS):
                break
    except OSError:
        # Nobody reads any more; the end of the other pipe is on its way.
        guard.alone.wait(SECONDS)
    # A client that only vanishes stalls a JACK server for seconds (seen), so each takes its leave.
    for client in outputs + inputs:
        client.delete()
    if not once:
        guard.leave()
        # Nothing is left to do, and a library may hang in its own cleaning up.
        os._exit(0)


def _clients() -> tuple[list[Any], list[Any], str, str]:
    """Return (outputs, inputs, trouble, detail): one client of each system that answers."""
    try:
        import rtmidi
    except ImportError as error:
        return [], [], "library", str(error)
    outputs, inputs, detail = [], [], ""
    for api in rtmidi.get_compiled_api():
        try:
            outputs.append(rtmidi.MidiOut(api, CLIENT))
            inputs.append(rtmidi.MidiIn(api, CLIENT))
        except (OSError, RuntimeError, ValueError) as error:
            detail = str(error)
    return outputs, inputs, "" if outputs else "system", detail


def _answer(outputs: list[Any], inputs: list[Any], trouble: str, detail: str) -> dict[str, Any]:
    try:
        return {
            "outputs": foreign([name for client in outputs for name in client.get_ports()]),
            "inputs": foreign([name for client in inputs for name in client.get_ports()]),
            "trouble": trouble,
            "detail": detail,
        }
    except (OSError, RuntimeError, ValueError) as error:
        return {"outputs": [], "inputs": [], "trouble": "system", "detail": str(error)}
