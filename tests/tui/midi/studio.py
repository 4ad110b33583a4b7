"""A studio for tests of the clock: the clock under test, and a pretended MIDI system that can be unplugged, hang and
crash (`pretended/rtmidi.py`)."""

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.tui.midi.heard import still_sounding
from tests.tui.waiting import until
from tui.midi.clock import Clock, ClockEvent

ROOT = Path(__file__).resolve().parents[3]
PRETENDED = Path(__file__).parent / "pretended"
PIANO = "Piano:Piano MIDI 1 20:0"
SENSE = b"\xfe"


def sent(folder: Path) -> list[tuple[float, bytes]]:
    """Return (second, message) of all that was sent through the pretended system."""
    path = folder / "sent"
    lines = path.read_text().split("\n")[:-1] if path.exists() else []
    return [(float(at), bytes.fromhex(data)) for at, _, data in (line.split("\t") for line in lines)]


class Studio:
    """A folder that plays the MIDI system, and the clock under test."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.events: list[ClockEvent] = []
        self.clock = Clock(folder / "log", self.events.append)
        self.plug(PIANO)

    def plug(self, *outputs: str, inputs: tuple[str, ...] = ()) -> None:
        (self.folder / "outputs").write_text("".join(f"{name}\n" for name in outputs))
        (self.folder / "inputs").write_text("".join(f"{name}\n" for name in inputs))

    def trouble(self, what: str) -> None:
        (self.folder / "trouble").write_text(what)

    def play(self, port: str, *messages: bytes) -> None:
        with (self.folder / f"in {port}").open("a") as file:
            file.writelines(f"{data.hex()}\n" for data in messages)

    def messages(self) -> list[bytes]:
        """Return what was sent, active sensing left aside."""
        return [data for _, data in sent(self.folder) if data != SENSE]

    def sensed(self) -> list[float]:
        return [at for at, data in sent(self.folder) if data == SENSE]

    def sounding(self) -> set[tuple[int, int]]:
        return still_sounding(self.messages())

    def said(self) -> list[str]:
        return [event.text for event in self.events if event.kind == "status"]

    def ready(self) -> None:
        self.clock.start()
        self.clock.open("Piano")
        until(lambda: self.clock.ready)


PLAYER = """
import sys, time
from engine.performance.timeline import Performance
from engine.performance.events import note_on
from tests.tui.waiting import until
from tui.midi.clock import Clock
clock = Clock()
clock.start(); clock.open("Piano")
while not clock.ready or clock.ports() is None: time.sleep(0.01)
clock.play(Performance(tuple((n * 0.01, note_on(40 + n % 60)) for n in range(2000))))
print(clock.process_id, flush=True)
time.sleep(60)
"""


@contextmanager
def player_elsewhere() -> Iterator[tuple[subprocess.Popen[bytes], int]]:
    """Let another process play a long line; it and the number of its clock's process, killed at the end."""
    environment = {**os.environ, "PYTHONPATH": f"{os.environ['PYTHONPATH']}{os.pathsep}{ROOT}"}
    with subprocess.Popen([sys.executable, "-c", PLAYER], stdout=subprocess.PIPE, env=environment) as player:
        try:
            assert player.stdout
            yield player, int(player.stdout.readline())
        finally:
            player.kill()
