"""How late messages leave the clock process while the interface is busy: `python tests/bench/clock.py [--seconds 60]`.

Prints a table. On a machine that lets the clock go first (see tui/midi/priority) other programs' work does
not show; elsewhere it does. The MIDI library is the tests' pretended one, which writes down when it was called: no
port, no driver and no wire is in the figures.
"""

import argparse
import asyncio
import os
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from engine.performance.events import note_off, note_on  # noqa: E402
from engine.performance.timeline import Mark, Performance  # noqa: E402
from tui.midi.clock import Clock  # noqa: E402

TEMPO = 197.3
CHORD = (36, 43, 52, 57, 60, 64, 67)


def piece(seconds: float) -> Performance:
    """A chord of seven notes on every beat, and a click between two."""
    beat = 60 / TEMPO
    messages: list[tuple[float, bytes]] = []
    for n in range(int(seconds / beat)):
        messages += [(n * beat, note_on(key)) for key in CHORD]
        messages += [((n + 0.5) * beat, note_off(key)) for key in CHORD]
    marks = tuple(Mark(n * beat, "beat", 1) for n in range(int(seconds / beat)))
    return Performance(tuple(messages), marks, (), seconds)


def idle(seconds: float) -> None:
    time.sleep(seconds)


def python_work(seconds: float) -> None:
    """Keep every thread of this process waiting for the interpreter."""
    end = time.monotonic() + seconds
    workers = [threading.Thread(target=_burn, args=(end,)) for _ in range(2)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()


def _burn(end: float) -> None:
    while time.monotonic() < end:
        sum(n * n for n in range(1000))


def textual_app(seconds: float) -> None:
    """Redraw a full screen as fast as it goes, and work in a thread beside it."""
    from textual.app import App, ComposeResult
    from textual.widgets import Static

    class Busy(App[None]):
        def compose(self) -> ComposeResult:
            yield Static()

        def on_mount(self) -> None:
            self.set_interval(0.005, self.redraw)
            self.set_timer(seconds, self.exit)

        def redraw(self) -> None:
            self.query_one(Static).update(f"[red]{time.monotonic()}[/] chord " * 400)

    end = time.monotonic() + seconds
    worker = threading.Thread(target=_burn, args=(end,))
    worker.start()
    asyncio.run(Busy().run_async(headless=True, size=(160, 50)))
    worker.join()


def measure(work: Callable[[float], None], seconds: float) -> tuple[list[float], float, float]:
    """Return sorted lateness of the first note of each moment (ms), drift over the run (ms), length of a chord (ms)."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["PRETENDED_MIDI"] = folder
        (Path(folder) / "outputs").write_text("bench\n")
        clock = Clock()
        clock.start()
        clock.open("bench")
        while not clock.ready:
            time.sleep(0.01)
        performance = piece(seconds)
        begin = time.monotonic() + 0.5
        clock.play(performance, 0.5)
        work(seconds + 1.0)
        clock.close()
        lines = (Path(folder) / "sent").read_text().splitlines()
    sent = [float(line.split("\t")[0]) for line in lines if line.split("\t")[2][0] in "89"]
    late = [(at - begin - due) * 1000 for at, (due, _) in zip(sent, performance.messages, strict=False)]
    firsts, lasts = late[:: len(CHORD)], late[len(CHORD) - 1 :: len(CHORD)]
    tenth = max(len(firsts) // 10, 1)
    middle = [sorted(part)[len(part) // 2] for part in (firsts[:tenth], firsts[-tenth:])]
    spread = sorted(last - first for first, last in zip(firsts, lasts, strict=False))
    return sorted(firsts), middle[1] - middle[0], spread[len(spread) // 2]


INTERFACES = (("idle", idle), ("pure-Python work", python_work), ("busy Textual app", textual_app))


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seconds", type=float, default=60.0, help="length of each run")
    asked.add_argument("--only", choices=[name for name, _ in INTERFACES], help="one kind of interface")
    given = asked.parse_args()
    seconds = given.seconds
    os.environ["PYTHONPATH"] = str(ROOT / "tests" / "tui" / "devices" / "pretended")
    print(f"{seconds:.0f} s at {TEMPO} beats a minute, chords of {len(CHORD)} notes; milliseconds\n")
    print(f"{'interface':<28}{'p50':>8}{'p99':>8}{'max':>8}{'drift':>9}{'chord':>8}{'moments':>9}")
    for name, work in INTERFACES:
        if given.only not in (None, name):
            continue
        late, drift, chord = measure(work, seconds)
        at = {part: late[min(int(len(late) * part), len(late) - 1)] for part in (0.5, 0.99)}
        print(f"{name:<28}{at[0.5]:>8.3f}{at[0.99]:>8.3f}{late[-1]:>8.2f}{drift:>9.3f}{chord:>8.2f}{len(late):>9}")


if __name__ == "__main__":
    main()
