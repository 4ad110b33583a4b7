"""The last to leave knows whom it was told of, and whether they still live."""

import os
import subprocess
import sys

import pytest

from tui.devices.guard import Guard, lives


def test_it_goes_by_the_last_it_was_told() -> None:
    guard = Guard()
    guard.listen(['{"out": "Piano", "clock": 7}', "no sense", '{"out": "", "clock": 0}'])
    assert (guard.out, guard.clock) == ("", 0)
    assert guard.alone.is_set()


@pytest.mark.skipif(sys.platform == "win32", reason="numbers of processes are not asked there")
def test_a_process_that_has_ended_does_not_live() -> None:
    assert lives(os.getpid())
    with subprocess.Popen([sys.executable, "-c", ""]) as child:
        child.wait()
    assert not lives(child.pid)
