"""The ways it ends in a terminal other than by its own key: signals, a terminal that is gone, a bug."""

import os
import signal
import sys
import time
from pathlib import Path

import pytest

from tests.tui.terminal import Terminal
from tests.tui.waiting import until

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals")


@pytest.mark.parametrize(("number", "code"), [(signal.SIGTERM, 143), (signal.SIGHUP, 129), (signal.SIGINT, 130)])
def test_a_signal_gives_the_terminal_back_and_keeps_the_place(pier: str, number: int, code: int) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("  ")
        terminal.wait_for("Verse, bar 3 of 4")
        os.kill(terminal.process.pid, number)
        assert terminal.end() == code
        assert terminal.restored
    with Terminal(pier) as again:
        again.wait_for("Verse, bar 3 of 4")


def test_bytes_that_are_no_keys_end_nothing(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        for opening in (b"", b"k", b"\x1b", b"f", b"\x1b"):
            os.write(terminal.file, opening + b"\xff\xe9\x1b[1114112;5u\x1b[999999999999;99~\x9b")
            terminal.read(0.2)
        terminal.press("  ")
        terminal.wait_for("Verse, bar 3 of 4")
        terminal.press("q")
        assert terminal.end() == 0


def test_keys_that_come_all_at_once_are_taken_in_their_order(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("kF\tkC\r")
        terminal.wait_for("is in F for good")
        terminal.press("0")
        terminal.wait_for("bar 1 of 4")
        terminal.wait_for(" C  ")
        terminal.paste(b"   \x7f\x7f\x7f" * 500 + b" ")
        terminal.wait_for("bar 2 of 4")
        terminal.press("q")
        terminal.read(0.5)
        terminal.press("\r")
        assert terminal.end() == 0


def test_half_a_megabyte_pasted_is_dropped_with_a_word_and_a_signal_still_ends_it(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.paste(b"\x1b[200~" + b"k q 0 \r" * 75_000 + b"\x1b[201~")
        terminal.wait_for("pasted")
        terminal.press(" ")
        terminal.wait_for("Verse, bar 2 of 4")
        terminal.paste(b"\x1b[200~" + b"k q 0 \r" * 15_000)
        os.kill(terminal.process.pid, signal.SIGTERM)
        assert terminal.end() == 143


def test_a_terminal_that_nobody_reads_any_more_holds_no_signal_up(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        for _ in range(200):
            terminal.press(" ")
            time.sleep(0.01)
        os.kill(terminal.process.pid, signal.SIGTERM)
        assert terminal.process.wait(timeout=15) == 143


def test_a_program_that_was_stopped_and_continued_ends_as_usual(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        os.kill(terminal.process.pid, signal.SIGSTOP)
        os.kill(terminal.process.pid, signal.SIGCONT)
        terminal.press(" ")
        terminal.read(0.5)
        terminal.press("q")
        terminal.read(0.5)
        terminal.press("q")
        assert terminal.end() == 0


def test_a_terminal_that_goes_without_a_word_ends_it_and_keeps_the_place(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("  ")
        terminal.wait_for("Verse, bar 3 of 4")
        terminal.vanish()
        # Python says 120 when its last words find no terminal.
        assert terminal.process.wait(timeout=15) in (120, 129)
    with Terminal(pier) as again:
        again.wait_for("Verse, bar 3 of 4")


def test_a_bug_ends_in_a_restored_terminal_and_one_line_about_its_report(pier: str, tmp_path: Path) -> None:
    code = (
        "from pathlib import Path; from tui.persistence import store; from tui.app import StandApp\n"
        "from tui.screens.stand.screen import StandScreen\n"
        "def broken(self): raise RuntimeError('a string broke')\n"
        "StandScreen.action_top = broken\n"
        f"StandApp(store.open_set(Path({pier!r})), Path({pier!r})).run()"
    )
    with Terminal(code=code) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("  ")
        terminal.wait_for("Verse, bar 3 of 4")
        terminal.press("0")
        assert terminal.end() == 1
        assert terminal.restored
        assert b"report lies in" in terminal.raw
    assert "a string broke" in (tmp_path / "home" / "report.txt").read_text()
    with Terminal(pier) as again:
        again.wait_for("Verse, bar 3 of 4")


def test_a_failure_in_a_thread_is_shown_and_the_stand_goes_on(pier: str) -> None:
    code = (
        "import threading; from pathlib import Path; from tui.persistence import store; from tui.app import StandApp\n"
        "from tui.screens.stand.screen import StandScreen\n"
        "def broken(): raise RuntimeError('a wire came off')\n"
        "StandScreen.action_top = lambda self: threading.Thread(target=broken, name='pedal').start()\n"
        f"StandApp(store.open_set(Path({pier!r})), Path({pier!r})).run()"
    )
    with Terminal(code=code) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("0")
        terminal.wait_for("a wire came off")
        terminal.press(" ")
        terminal.wait_for("Verse, bar 2 of 4")
        terminal.press("q")
        assert terminal.end() == 0


def test_after_the_stand_is_killed_no_planner_is_left(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.read(1.0)
        children = Path(f"/proc/{terminal.process.pid}/task/{terminal.process.pid}/children")
        if not children.exists():
            pytest.skip("no /proc")
        pids = children.read_text().split()
        os.kill(terminal.process.pid, signal.SIGKILL)
        terminal.process.wait()
        assert pids
        until(lambda: not any(map(_alive, pids)))


def _alive(pid: str) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False
