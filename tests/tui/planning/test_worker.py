"""The planning process by itself."""

import pickle
import subprocess

from engine.planning.model import Request
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from tui.planning.worker import framed
from tui.processes import safe_environment, start_command


def test_it_ends_with_its_input_in_the_middle_of_an_answer() -> None:
    roots = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")
    bars = " | ".join(f"{root}{kind}" for kind in ("maj9", "m11", "13", "m7b5", "7alt", "dim7") for root in roots)
    steps = unfold(song_from_chart(f"| {bars} |"))
    asked = framed(pickle.dumps(("plan", (steps, Request()))))
    worker = subprocess.Popen(
        start_command("tui.planning.worker"),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=safe_environment(),
    )
    answered, _ = worker.communicate(asked, timeout=60)
    assert (worker.returncode, answered) == (0, b"")
