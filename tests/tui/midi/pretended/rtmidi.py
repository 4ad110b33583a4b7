"""A MIDI library made of files, put before the real one in a child process: it can be unplugged, hang and crash.

In the folder PRETENDED_MIDI: `outputs` and `inputs` list the ports, `sent` records (monotonic seconds, port, message),
`in NAME` is what an instrument plays (one message a line), `trouble` says what goes wrong: library, system, list, send,
crash.
"""

import ctypes
import os
import threading
import time
from pathlib import Path

FOLDER = Path(os.environ["PRETENDED_MIDI"])


def _trouble() -> str:
    try:
        return (FOLDER / "trouble").read_text()
    except FileNotFoundError:
        return ""


if _trouble() == "library":
    raise ImportError("no rtmidi here")


class SystemError(OSError, RuntimeError): ...


def get_compiled_api() -> list[int]:
    return [1]


def _hang() -> None:
    """Sleep for good without letting go of the interpreter, as a library stuck in its server does."""
    ctypes.PyDLL(None).sleep(1000)


class _Client:
    names = ""

    def __init__(self, api: int, client: str) -> None:
        if _trouble() == "system":
            raise SystemError("no MIDI here")
        self._name = ""
        self._gone = False
        self._sent = os.open(FOLDER / "sent", os.O_WRONLY | os.O_APPEND | os.O_CREAT)

    def get_ports(self) -> list[str]:
        if _trouble() == "list":
            _hang()
        path = FOLDER / self.names
        return path.read_text().splitlines() if path.exists() else []

    def open_port(self, number: int, name: str) -> None:
        self._name = self.get_ports()[number]

    def open_virtual_port(self, name: str) -> None:
        self._name = name

    def close_port(self) -> None:
        self._name = ""

    def delete(self) -> None:
        self._gone = True


class MidiOut(_Client):
    names = "outputs"

    def send_message(self, data: bytes) -> None:
        now = time.monotonic()
        assert self._name, "sent after the port was closed"
        trouble = _trouble()
        if trouble == "send":
            _hang()
        if trouble == "crash":
            os.abort()
        line = f"{now:.6f}\t{self._name}\t{bytes(data).hex()}\n"
        # One write, so that lines of several processes never mix.
        os.write(self._sent, line.encode())


class MidiIn(_Client):
    names = "inputs"

    def ignore_types(self, sysex: bool, timing: bool, active_sense: bool) -> None: ...

    def set_callback(self, callback: object) -> None:
        self._callback = callback

    def open_port(self, number: int, name: str) -> None:
        super().open_port(number, name)
        threading.Thread(target=self._listen, daemon=True).start()

    def cancel_callback(self) -> None: ...

    def _listen(self) -> None:
        told = 0
        while not self._gone:
            path = FOLDER / f"in {self._name}"
            lines = path.read_text().split("\n")[:-1] if path.exists() else []
            for line in lines[told:]:
                self._callback((list(bytes.fromhex(line)), 0.0), None)
            told = len(lines)
            time.sleep(0.005)
