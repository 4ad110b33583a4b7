"""When the interface goes, its clock silences what it left."""

import os
import signal
import time

import pytest

from tests.tui.midi.studio import Studio, player_elsewhere
from tests.tui.waiting import until


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
