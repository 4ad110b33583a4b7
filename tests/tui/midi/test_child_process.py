"""A process of our own, of which nobody need hear when it is gone."""

import gc
import os
import signal
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from tests.tui.waiting import until
from tui.midi.child_process import Child
from tui.midi.messages import Marked


def test_a_child_that_is_gone_is_let_go_without_a_word_on_the_screen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # From Python 3.13 on a pipe that is dropped with words left in it complains on the error stream.
    told: list[Any] = []
    monkeypatch.setattr(sys, "unraisablehook", told.append)
    _send_to_the_dead(tmp_path)
    gc.collect()
    assert told == []


def _send_to_the_dead(folder: Path) -> None:
    child = Child("tui.midi.port_watch", lambda line: None, folder / "log")
    os.kill(child.pid, signal.SIGKILL)
    until(lambda: not child.alive)
    for number in range(20):
        child.send(Marked("beat", number, 0.0))
    time.sleep(0.1)
