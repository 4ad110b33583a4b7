"""From key to picture over a pseudo-terminal, beside the floor: a Textual application of one label in the same run.

Run `python -m tests.bench.latency` from the root. It prints a table; the last column is the ratio to the floor's
median. Figures of one machine: take the ratios. The terminal's own drawing comes on top.
"""

import os
import random
import re
import resource
import statistics
import sys
import tempfile
import time
from functools import partial
from pathlib import Path

PRESSES = 200
STARTS = 7
FLOOR = """
from textual.app import App
from textual.widgets import Label
class Floor(App):
    BINDINGS = [("space", "step", "step")]
    count = 0
    def compose(self):
        yield Label("step 0", id="label")
    def action_step(self):
        self.count += 1
        self.query_one(Label).update(f"step {self.count}")
Floor().run()
"""
SONG = 'title = "{title}"\nkey = "C"\nmeter = "4/4"\ntempo = 100\nroadmap = "A x4"\n[sections.A]\nbars = "{bars}"\n'
CHORDS = (
    "Dm7",
    "G7",
    "Cmaj7",
    "A7b9",
    "Fmaj7",
    "Bm7b5",
    "E7",
    "Am7",
    "Abmaj7",
    "Db9",
    "Ebmaj7",
    "G7alt",
    "Cm7",
    "F9",
    "Bbmaj7",
    "A7",
)


def song_set(folder: Path, songs: int) -> Path:
    """Write a set of songs with 64 changes each; return its path."""
    bars = "| " + " | ".join(CHORDS) + " |"
    for number in range(songs):
        (folder / f"{number}.toml").write_text(SONG.format(title=f"Song {number}", bars=bars))
    entries = "".join(f'[[songs]]\nfile = "{number}.toml"\n' for number in range(songs))
    path = folder / "set.toml"
    path.write_text(f'title = "Bench"\n{entries}')
    return path


def answered(terminal, press: bytes, quiet: float = 0.25) -> tuple[float, int]:  # type: ignore[no-untyped-def]
    """Press a key; return (seconds until the first byte that answers it, bytes in all)."""
    import select

    begin = time.perf_counter()
    os.write(terminal.file, press)
    first, size, wait = 0.0, 0, quiet
    while select.select([terminal.file], [], [], wait)[0]:
        data = os.read(terminal.file, 65536)
        first = first or time.perf_counter() - begin
        size += len(data)
        wait = 0.01
    return first, size


def measured(terminal, press: bytes) -> tuple[list[float], float]:  # type: ignore[no-untyped-def]
    times, sizes = [], []
    for _ in range(PRESSES):
        time.sleep(random.uniform(0.03, 0.08))
        seconds, size = answered(terminal, press)
        if seconds:
            times.append(1000 * seconds)
            sizes.append(size)
    return times, statistics.mean(sizes)


def started(make, sign: str) -> tuple[float, object]:  # type: ignore[no-untyped-def]
    """Start a terminal; return (milliseconds until `sign` has been sent, the terminal).

    What comes is not given to the emulator before that: its own work would be most of the time.
    """
    begin = time.perf_counter()
    terminal = make()
    while sign.encode() not in terminal.raw:
        terminal.raw += os.read(terminal.file, 65536)
    return 1000 * (time.perf_counter() - begin), terminal


def starts(make_floor, make) -> list[tuple[float, float]]:  # type: ignore[no-untyped-def]
    """Return several starts of the floor and of the stand, milliseconds, taking turns."""
    found = []
    for _ in range(STARTS):
        floor, one = started(make_floor, "step 0")
        one.close()  # type: ignore[attr-defined]
        ours, other = started(make, "♩=")
        other.close()  # type: ignore[attr-defined]
        found.append((floor, ours))
    return found


def memory(pid: int) -> float:
    """Return the resident megabytes of a process, 0 where the system does not tell."""
    try:
        status = Path(f"/proc/{pid}/status").read_text()
    except OSError:
        return 0.0
    found = re.search(r"VmRSS:\s+(\d+)", status)
    return int(found[1]) / 1024 if found else 0.0


def row(name: str, times: list[float], size: float, floor: float) -> str:
    ordered = sorted(times)
    p95, p99 = ordered[int(0.95 * len(ordered))], ordered[int(0.99 * len(ordered))]
    middle = statistics.median(ordered)
    return f"{name:<26}{middle:8.1f}{p95:8.1f}{p99:8.1f}{size / 1000:9.1f}{middle / floor:9.2f}"


def main() -> None:
    from tests.tui.terminal import Terminal

    folder = Path(tempfile.mkdtemp(prefix="bench"))
    os.environ["STILLHAND_HOME"] = str(folder / "home")
    path = str(song_set(folder, 40))
    print(f"{'':<26}{'p50 ms':>8}{'p95':>8}{'p99':>8}{'kB/step':>9}{'ratio':>9}")
    for size in ((80, 24), (200, 60)):
        floor_of, stand_of = partial(Terminal, code=FLOOR, size=size), partial(Terminal, path, size=size)
        pairs = starts(floor_of, stand_of)
        terminal = floor_of()
        terminal.wait_for("step 0")
        terminal.read(0.5)
        times, weight = measured(terminal, b" ")
        floor = statistics.median(times)
        print(row(f"floor {size[0]}x{size[1]}", times, weight, floor))
        terminal.close()
        terminal = stand_of()
        terminal.wait_for("♩=")
        terminal.read(6.0)
        times, weight = measured(terminal, b" ")
        print(row(f"stand {size[0]}x{size[1]}", times, weight, floor))
        one, two = (statistics.median(each) for each in zip(*pairs, strict=True))
        ratio = statistics.median(ours / bare for bare, ours in pairs)
        print(f"{'start to first chord':<26}{two:8.0f} ms, floor {one:.0f}, ratio {ratio:.2f} (medians of {STARTS})")
        print(f"{'memory':<26}{memory(terminal.process.pid):8.0f} MB")
        shown = []
        for steps in ("+2", "-3", "+4", "-5", "+1"):
            for keys in ("k", steps):
                terminal.press(keys)
                terminal.read(0.4)
            shown.append(1000 * answered(terminal, b"\r")[0])
            terminal.read(1.0)
        print(f"{'another key shown after':<26}{statistics.median(shown):8.0f} ms, most {max(shown):.0f}")
        terminal.close()
    print(f"{'this script itself':<26}{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:8.0f} MB")


if __name__ == "__main__":
    sys.exit(main())
