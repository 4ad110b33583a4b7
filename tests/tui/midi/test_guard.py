"""The last to leave knows whom it was told of, and whether they still live."""

import os
import signal
import subprocess
import sys
import time

import pytest

from tests.tui.midi.studio import Studio, player_elsewhere
from tests.tui.waiting import until
from tui.midi.guard import Guard, lives
from tui.midi.messages import Charge, to_line


def test_it_goes_by_the_last_it_was_told() -> None:
    guard = Guard()
    guard.listen([to_line(Charge(("Piano",), 7)), b"no sense", to_line(Charge(("Organ", "Click"), 8))])
    assert guard.charge == Charge(("Organ", "Click"), 8)
    assert guard.alone.is_set()


@pytest.mark.skipif(sys.platform == "win32", reason="numbers of processes are not asked there")
def test_a_process_that_has_ended_does_not_live() -> None:
    assert lives(os.getpid())
    with subprocess.Popen([sys.executable, "-c", ""]) as child:
        child.wait()
    assert not lives(child.pid)


def test_when_interface_and_clock_are_killed_at_once_the_third_process_silences(studio: Studio):
    with player_elsewhere() as (player, clock):
        # The listing process runs, and is told of the port within the watch's quarter second.
        time.sleep(1.0)
        assert studio.sounding()
        os.kill(clock, signal.SIGKILL)
        player.kill()
    until(lambda: not studio.sounding(), 10)
    time.sleep(0.3)
    assert not studio.sounding()
