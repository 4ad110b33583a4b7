"""The built-in sound into nothing at all: onset errors at the sample level, processor time, start time unused.

`python -m tests.bench audio` prints a table. The null device asks for samples in time as a real one does; what a driver
and a loudspeaker add is not in the figures.
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from engine.performance.events import Note, note_off, note_on, wire
from tests.tui.playback.recording_process import recorded, wait_for_blocks
from tui.audio import BUILT_IN
from tui.audio.device import BLOCK_MS, BLOCKS, NULL, BuiltInSound
from tui.audio.synthesizer import RATE, rendered
from tui.midi.clock import Clock

CHORD = (36, 43, 48, 52, 55, 60, 64, 67, 71, 74)
BEAT = 0.3041


def offline() -> None:
    """Print how far rendered onsets lie from their schedule, and how long rendering takes."""
    notes = tuple(Note(number * BEAT, 69, 0.1) for number in range(100))
    samples = rendered(wire(notes), 100 * BEAT)
    errors = [np.flatnonzero(samples[round(note.seconds * RATE) :])[0] / RATE for note in notes]
    print(f"rendered: onset error at most {max(errors) * 1e3:.3f} ms")
    whole = wire(tuple(Note(number * BEAT, key, BEAT * 0.9) for number in range(100) for key in CHORD))
    before = time.process_time()
    rendered(whole, 100 * BEAT)
    print(f"rendered: ten notes a beat take {(time.process_time() - before) / (100 * BEAT) * 100:.1f} % of a core")


class _Listening(BuiltInSound):
    def __init__(self) -> None:
        super().__init__()
        self.heard: list[np.ndarray] = []  # type: ignore[type-arg]

    def block(self, frames: int, now: float):  # type: ignore[no-untyped-def]
        samples = super().block(frames, now)
        self.heard.append(samples.copy())
        return samples


def live(seconds: float = 20.0) -> None:
    """Print the same through the null device: messages sent at absolute deadlines, as the clock does."""
    sound = _Listening()
    sound.open()
    began, cpu = time.monotonic() + 0.3, time.process_time()
    count = int(seconds / BEAT)
    sent: list[float] = []
    for number in range(count):
        while time.monotonic() < began + number * BEAT:
            time.sleep(min(max(began + number * BEAT - time.monotonic() - 0.001, 0), 0.05))
        sent.append(time.monotonic())
        for key in CHORD:
            sound.send(note_on(key))
        time.sleep(BEAT * 0.5)
        for key in CHORD:
            sound.send(note_off(key))
    used = (time.process_time() - cpu) / (time.monotonic() - began)
    sound.close()
    samples = np.abs(np.concatenate(sound.heard))
    loud = np.flatnonzero(samples > 0)
    onsets = loud[np.flatnonzero(np.diff(loud, prepend=-(10**6)) > 0.02 * RATE)][:count]
    late = onsets / RATE - np.array(sent[: len(onsets)])
    late -= np.median(late)
    p50, p99, most = (np.quantile(np.abs(late), part) * 1e3 for part in (0.5, 0.99, 1.0))
    print(
        f"live: {len(onsets)} of {count} chords; onset after sending: p50 {p50:.2f} ms, p99 {p99:.2f}, max {most:.2f}"
    )
    print(f"live: {used * 100:.1f} % of a core with ten notes, samples alone {sound.spent / seconds * 100:.1f} %")
    print(f"from key to sound without a driver: {BLOCK_MS * (1 + BLOCKS)} ms")


def silence(times: int = 20) -> None:
    """Print how soon nothing sounds after a panic, through the clock's process, by the stream's own time."""
    with tempfile.TemporaryDirectory() as name:
        os.environ["RECORDED"] = name
        folder, late = Path(name), []
        clock = Clock(folder / "log", None, "tests.tui.playback.recording_process", (BUILT_IN,))
        clock.start()
        clock.open(BUILT_IN)
        while not clock.ready:
            time.sleep(0.05)
        for _ in range(times):
            clock.sound(CHORD)
            time.sleep(0.3)
            asked_at = time.monotonic()
            clock.panic()
            wait_for_blocks(folder)
            samples, asked = recorded(folder)
            block = len(samples) // len(asked)
            began = min(at - number * block / RATE for number, at in enumerate(asked))
            late.append(np.flatnonzero(samples)[-1] / RATE - (asked_at - began))
        clock.close()
    print(f"silence after a panic: p50 {np.median(late) * 1e3:.1f} ms, max {max(late) * 1e3:.1f}")


def starting() -> None:
    """Print what starting takes, and that it loads nothing of the sound."""
    code = "import sys, tui.app; print(any(name.startswith(('miniaudio', 'tui.audio.')) for name in sys.modules))"
    before = time.monotonic()
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip()
    print(f"start: sound loaded: {loaded}; importing the application {time.monotonic() - before:.2f} s")


if __name__ == "__main__":
    os.environ[NULL] = "null"
    offline()
    live()
    silence()
    starting()
