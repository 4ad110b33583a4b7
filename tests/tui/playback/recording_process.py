"""The clock's process with a built-in sound that writes down every sample it makes, and when it was asked for it."""

import json
import os
from pathlib import Path

from tests.tui.waiting import until
from tui.audio import BUILT_IN
from tui.audio.device import BuiltInSound
from tui.audio.voices import Samples
from tui.midi import clock_process
from tui.midi.sounding import Output


class Recorder(BuiltInSound):
    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._raw = (folder / "samples").open("ab")
        self._asked = (folder / "asked").open("a")

    def block(self, frames: int, now: float) -> Samples:
        samples = super().block(frames, now)
        self._raw.write(samples.tobytes())
        self._raw.flush()
        print(json.dumps([now, frames]), file=self._asked, flush=True)
        return samples


def _open() -> Output:
    recorder = Recorder(Path(os.environ["RECORDED"]))
    recorder.open()
    return recorder


def main(arguments: list[str]) -> None:
    clock_process.main(arguments, {BUILT_IN: _open})


def recorded(folder: Path) -> tuple[Samples, list[float]]:
    """Return all samples, and for each block the moment (monotonic) at which it was asked for."""
    import numpy as np

    asked = [json.loads(line)[0] for line in (folder / "asked").read_text().splitlines()]
    return np.fromfile(folder / "samples", np.float32), asked


def wait_for_blocks(folder: Path, blocks: int = 40) -> None:
    """Let some more blocks be made."""
    seen = len(recorded(folder)[1])
    until(lambda: len(recorded(folder)[1]) >= seen + blocks)
