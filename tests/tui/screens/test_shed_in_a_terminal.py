"""The shed in a real terminal, with a real clock process and a process that is killed in the middle."""

import os
import signal
import sys
from pathlib import Path

import pytest

from tests.tui.terminal import Terminal
from tui.persistence import practice_log

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals")

SONG = """\
title = "Pier Lights"
key = "C"
meter = "4/4"
tempo = 180

[sections.Verse]
bars = "| Dm7 G7 | Cmaj7 A7 | Fmaj7 | Fm6 | Em7 | A7 |"
"""


def test_tries_survive_the_process_that_took_them(tmp_path: Path) -> None:
    song = tmp_path / "pier.toml"
    song.write_text(SONG)
    with Terminal(str(song)) as terminal:
        terminal.wait_for("Verse, bar 1 of 6")
        terminal.press("a")
        terminal.wait_for("stop before anything")
        terminal.press("\r")
        terminal.wait_for(">  1")
        terminal.press(" ")
        terminal.wait_for("round and round at")
        # The word about a try may give way to one about the sound at any time; the log is what counts.
        for count in (1, 2):
            terminal.press("c")
            for _ in range(100):
                if len(practice_log.load().tries) == count:
                    break
                terminal.read(0.1)
        os.killpg(terminal.process.pid, signal.SIGKILL)
        terminal.process.wait()
    log = practice_log.load()
    assert [one.clean for one in log.tries] == [True, True]
    assert log.bad == ()
    with Terminal(str(song)) as terminal:
        terminal.wait_for("Verse, bar 1 of 6")
        terminal.press("a")
        terminal.wait_for("2 tries kept")
        terminal.press("\x1b")
        terminal.wait_for("Verse, bar 1 of 6")
        terminal.press("q")
        assert terminal.end() == 0
