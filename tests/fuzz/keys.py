"""Random keys, bytes, pastes, mouse reports, resizes and signals on the stand in a real terminal.

    python -m tests.fuzz.keys [SECONDS] [SEED]

Prints one line a run: how it ended. A run fails when the process ends by itself with another code than 0, leaves a
report or a process behind, prints a traceback, or does not answer any more.
"""

import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.tui.leftovers import left_of
from tests.tui.terminal import Terminal
from tests.tui.waiting import until

ROOT = Path(__file__).parents[2]
KEYS = [
    *" \r\t\x7f\x1b\n0123456789abcdefghijklmnoprstuvwxyz?.,/+-ABCDEFGHJKLMNOPRSTUVWXYZ#",
    *("\x1b[" + end for end in ("A", "B", "C", "D", "5~", "6~", "H", "F", "15~", "1;5C", "3~", "I", "O")),
]
"""Keys that a player may press; q, which leaves, is tried by itself."""

ODD = [
    b"\xff", b"\xe9", b"\xc3", b"\x9b", b"\x00", b"\x1b[1114112;5u", b"\x1b[999999999999;99~", b"\x1b[200~",
    b"\x1b[201~", b"\x1b]11;rgb:00/00/00\x07", b"\x1b[?2026;2$y", b"\x1b[<-1;-5;9M", b"\x1b[55296u", b"\x1bP1\x1b\\",
    b"\x1b[12;40R",
]  # fmt: skip
"""What no player presses: noise, answers of terminals, broken sequences."""


def press(terminal: Terminal, chance: random.Random) -> None:
    """Do one random thing."""
    kind = chance.random()
    if kind < 0.80:
        terminal.paste("".join(chance.choices(KEYS, k=chance.randint(1, 12))).encode())
    elif kind < 0.90:
        noise = bytes(byte for byte in chance.randbytes(chance.randint(0, 4)) if byte not in b"q\x11")
        terminal.paste(b"".join(chance.choices(ODD, k=chance.randint(1, 3))) + noise)
    elif kind < 0.94:
        x, y = chance.randint(1, 200), chance.randint(1, 60)
        terminal.paste(f"\x1b[<{chance.choice((0, 1, 2, 32, 35, 64, 65))};{x};{y}{chance.choice('Mm')}".encode())
    elif kind < 0.97:
        text = chance.randbytes(chance.choice((3, 60, 400, 20_000)))
        terminal.paste(b"\x1b[200~" + text.replace(b"\x1b", b"") + b"\x1b[201~")
    else:
        terminal.resize(chance.choice((1, 10, 40, 80, 100, 160)), chance.choice((1, 5, 16, 24, 30, 50)))


def run(seed: int, home: Path, things: int = 300) -> str:
    """Return how a run went wrong, "" when it did not."""
    chance = random.Random(seed)
    shutil.copytree(ROOT / "setlists", home, dirs_exist_ok=True)
    given = {"STILLHAND_HOME": str(home), "STILLHAND_AUDIO": "null"}
    with Terminal(str(home / "harbour-room.toml"), "--song", "1", **given) as terminal:
        terminal.wait_for("Low Tide", 40)
        for number in range(things):
            press(terminal, chance)
            terminal.read(0.001)
            if terminal.process.poll() is not None:
                return f"ended by itself with {terminal.process.poll()} after {number} things"
        terminal.resize(100, 30)
        os.kill(terminal.process.pid, signal.SIGTERM)
        began = time.monotonic()
        code = terminal.end(20)
        took = time.monotonic() - began
        if b"Traceback" in terminal.raw or (home / "report.txt").exists():
            return "a report or a traceback was left"
        if code != 143 or took > 3.0:
            return f"SIGTERM: code {code} after {took:.1f} s"
        try:
            until(lambda: not left_of(home), 3.0)
        except AssertionError:
            return f"left behind: {left_of(home)}"
    return ""


def main() -> None:
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 60.0
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else int(time.time())
    end = time.monotonic() + seconds
    failed = 0
    while time.monotonic() < end:
        home = Path(tempfile.mkdtemp(prefix="stillhand-fuzz-"))
        try:
            wrong = run(seed, home)
        except (AssertionError, OSError, subprocess.TimeoutExpired) as fault:
            wrong = f"does not answer: {fault}"
        print(f"seed {seed}: {wrong or 'well'}" + (f" ({home})" if wrong else ""), flush=True)
        if not wrong:
            shutil.rmtree(home)
        failed += bool(wrong)
        seed += 1
    sys.exit(bool(failed))


if __name__ == "__main__":
    main()
