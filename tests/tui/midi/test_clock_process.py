"""When the interface goes, its clock silences what it left."""

import os
import signal
import subprocess
import sys
import time

import pytest

from tests.tui.midi.studio import Studio, player_elsewhere
from tests.tui.waiting import until
from tui.midi.messages import Open, Strike, to_line

STUCK = """
import ctypes, sys
from tui.midi import clock_process, clockwork
clockwork.HUNG = 1.0
class Output:
    def send(self, data):
        ctypes.PyDLL(None).sleep(600)
    def close(self):
        pass
clock_process.main([""], {"stuck": Output})
"""
"""A clock whose output hangs and lets no other thread run, as a library does when its server has gone."""


def test_sigterm_silences(studio: Studio):
    studio.ready()
    studio.clock.sound([60, 64, 67])
    until(lambda: len(studio.sounding()) == 3)
    os.kill(studio.clock.process_id or 0, signal.SIGTERM)
    until(lambda: not studio.sounding(), 2)


@pytest.mark.parametrize("end", [signal.SIGKILL, signal.SIGTERM, signal.SIGSTOP])
def test_an_interface_that_dies_or_is_suspended_leaves_nothing_sounding(studio: Studio, end: signal.Signals):
    with player_elsewhere() as (player, _):
        until(lambda: len(studio.sounding()) > 5)
        player.send_signal(end)
        until(lambda: not studio.sounding(), 8)
        time.sleep(0.2)
        assert not studio.sounding()


@pytest.mark.skipif(sys.platform != "linux", reason="calls the C library by its name on Linux")
def test_a_clock_that_hangs_in_a_library_ends_by_itself():
    clock = subprocess.Popen([sys.executable, "-c", STUCK], stdin=subprocess.PIPE, stderr=subprocess.DEVNULL)
    assert clock.stdin
    try:
        clock.stdin.write(to_line(Open("out", "stuck")) + to_line(Strike(((60, 76),), 1)))
        clock.stdin.flush()
        assert clock.wait(20) == 1
    finally:
        clock.kill()
        clock.stdin.close()
