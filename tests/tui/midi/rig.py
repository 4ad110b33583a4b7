"""A MIDI path without a sound card: a JACK server with its dummy driver, a synthesizer that records, a monitor.

On Debian and Ubuntu: `apt install jackd2 fluidsynth timgm6mb-soundfont`, then `python -m pytest tests/tui/midi`.
"""

import contextlib
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from tests.tui.waiting import until

RATE = 48000
SOUNDFONTS = (Path("/usr/share/sounds/sf2/TimGM6mb.sf2"), Path("/usr/share/sounds/sf2/default-GM.sf2"))

MONITOR = """
import sys, time, rtmidi
out = open(sys.argv[1], "a", buffering=1)
port = rtmidi.MidiIn(rtmidi.API_UNIX_JACK, "monitor")
port.ignore_types(timing=False)
port.set_callback(lambda message, _: out.write(f"{time.monotonic():.6f} {bytes(message[0]).hex()}\\n"))
port.open_virtual_port("in")
print("ready", flush=True)
sys.stdin.read()
port.close_port(); port.delete()
"""


def missing() -> str:
    """Return what keeps the real path from being built, "" when nothing does."""
    programs = [name for name in ("jackd", "jack_wait", "fluidsynth") if shutil.which(name) is None]
    if not any(path.exists() for path in SOUNDFONTS):
        programs.append("a soundfont (timgm6mb-soundfont)")
    try:
        import rtmidi
    except ImportError:
        return "python-rtmidi is not installed"
    if rtmidi.API_UNIX_JACK not in rtmidi.get_compiled_api():
        programs.append("python-rtmidi built with JACK")
    return f"not installed: {', '.join(programs)}" if programs else ""


def demand() -> None:
    """Skip with the reason where the programs are missing; where they are promised, fail."""
    if why := missing():
        (pytest.fail if os.environ.get("STILLHAND_REAL_MIDI") == "1" else pytest.skip)(why)


class Rig:
    """One server and what hangs on it; `sync` loses no message, and stalls when a client is killed."""

    def __init__(self, folder: Path, sync: bool) -> None:
        self.folder = folder
        self.name = f"stand{os.getpid()}{time.monotonic_ns() % 100000}"
        self.sync = sync
        self.processes: list[subprocess.Popen[bytes]] = []

    def start_server(self) -> subprocess.Popen[bytes]:
        # Every test has a server of its own name: one that was killed leaves its shared memory behind.
        os.environ["JACK_DEFAULT_SERVER"] = self.name
        mode = ["-S"] if self.sync else []
        # Without -S a cycle that comes too late loses its messages, so it is given time.
        cycle = "128" if self.sync else "1024"
        command = ["jackd", "--no-realtime", *mode, "-n", self.name, "-d", "dummy", "-r", str(RATE), "-p", cycle]
        server = self._start(command, "jackd.log")
        until(self._running)
        return server

    def _running(self) -> bool:
        asked = subprocess.run(["jack_wait", "-s", self.name, "-c"], capture_output=True, timeout=15, check=False)
        return b"not running" not in asked.stdout

    def start_synth(self) -> subprocess.Popen[bytes]:
        font = next(path for path in SOUNDFONTS if path.exists())
        options = {
            "midi.jack.id": "synth", "audio.file.name": str(self.folder / "out.raw"), "audio.file.type": "raw",
            "audio.file.format": "s16",
        }  # fmt: skip
        settings = [word for name, value in options.items() for word in ("-o", f"{name}={value}")]
        command = ["fluidsynth", "-i", "-s", "-q", "-m", "jack", "-a", "file", *settings]
        return self._start([*command, "-r", str(RATE), "-R", "0", "-C", "0", str(font)], "fluidsynth.log")

    def start_monitor(self) -> None:
        monitor = subprocess.Popen(
            [sys.executable, "-c", MONITOR, str(self.folder / "heard")],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=(self.folder / "monitor.log").open("w"),
        )
        self.processes.append(monitor)
        assert monitor.stdout
        assert monitor.stdout.readline().strip() == b"ready"

    def heard(self) -> list[bytes]:
        """Return the messages that have come to the monitor."""
        path = self.folder / "heard"
        lines = path.read_text().split("\n")[:-1] if path.exists() else []
        return [bytes.fromhex(line.split()[1]) for line in lines]

    def audio(self) -> "np.ndarray[tuple[int], np.dtype[np.float64]]":
        """Return what the synthesizer has recorded so far, both sides together, full scale 1."""
        sides = np.frombuffer((self.folder / "out.raw").read_bytes(), dtype="<i2")
        return sides[: len(sides) // 2 * 2].reshape(-1, 2).mean(axis=1) / 32768

    def stop(self) -> None:
        killed = self._end_all()
        if killed:
            # A killed server keeps one of the eight places in JACK's registry; another of its name gives it back.
            self.start_server()
            self._end_all()

    def _end_all(self) -> bool:
        """End every process; returns whether a server had to be killed or had been.

        The server goes first: it leaves its clients in peace, while a client that vanishes stalls the server.
        """
        killed = False
        for process in self.processes:
            if process.poll() is None:
                process.terminate()
                with contextlib.suppress(subprocess.TimeoutExpired):
                    process.wait(4.0 if process.args[0] == "jackd" else 0.1)
            process.kill()
            process.wait()
            killed = killed or (process.args[0] == "jackd" and process.returncode == -signal.SIGKILL)
        self.processes.clear()
        return killed

    def _start(self, command: list[str], log: str) -> subprocess.Popen[bytes]:
        with (self.folder / log).open("a") as out:
            process = subprocess.Popen(command, stdout=out, stderr=out, stdin=subprocess.DEVNULL)
        self.processes.append(process)
        return process


@contextlib.contextmanager
def rig(folder: Path, sync: bool = True) -> Iterator[Rig]:
    before = os.environ.get("JACK_DEFAULT_SERVER")
    built = Rig(folder, sync)
    try:
        yield built
    finally:
        built.stop()
        os.environ.pop("JACK_DEFAULT_SERVER", None)
        if before is not None:
            os.environ["JACK_DEFAULT_SERVER"] = before
