"""The terminal goes at any moment, in every way it can: a moment later no process of ours is left.

Few moments are tried every time. By hand a hundred of each, each to be over within three seconds:
STILLHAND_MOMENTS=100 python -m pytest -s tests/tui/test_terminal_gone.py
"""

import contextlib
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.tui.leftovers import left_of
from tests.tui.terminal import Terminal

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="no /proc to find processes in")

MOMENTS = int(os.environ.get("STILLHAND_MOMENTS", "1"))
SECONDS = 3.0 if MOMENTS > 1 else 15.0
"""Until all have ended. Three by hand, on a machine that does nothing else; one that is busy may take longer."""
OF_ITS_OWN = ("setsid", "--ctty", "--wait")
"""Makes the terminal the one that controls the program: it then hears of its end by a signal too."""


def pressed(keys: str, longest: float) -> Callable[[Terminal, random.Random], None]:
    """Return what presses keys on the open stand and waits up to so many seconds."""

    def do(terminal: Terminal, chance: random.Random) -> None:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press(keys)
        terminal.read(0.0)
        time.sleep(chance.uniform(0, longest))

    return do


def starting(terminal: Terminal, chance: random.Random) -> None:
    time.sleep(chance.uniform(0, 1.5))


def signalled(number: int, longest: float) -> Callable[[Terminal, random.Random], None]:
    def do(terminal: Terminal, chance: random.Random) -> None:
        terminal.wait_for("Verse, bar 1 of 4")
        time.sleep(chance.uniform(0, 0.3))
        stand = next(
            line for line in left_of(os.environ["STILLHAND_HOME"]) if "-m tui" in line and "setsid" not in line
        )
        os.kill(int(stand.split()[0]), number)
        time.sleep(chance.uniform(0, longest))

    return do


WAYS = {
    "starting": starting,
    "planning": pressed("k+2\r", 0.4),
    "in a prompt": pressed("fPie", 0.2),
    "after Esc": pressed("\x1b", 0.2),
    "in time": pressed("i", 1.0),
    "quitting": pressed("q", 0.4),
    "after SIGTERM": signalled(signal.SIGTERM, 0.3),
    "after SIGTSTP": signalled(signal.SIGTSTP, 0.3),
    "after SIGSTOP": signalled(signal.SIGSTOP, 0.3),
}


@pytest.mark.timeout(30 + 30 * MOMENTS)
@pytest.mark.parametrize("own", [True, False], ids=["controlling", "not controlling"])
@pytest.mark.parametrize("way", WAYS)
def test_nothing_is_left_when_the_terminal_goes(pier: str, home: Path, way: str, own: bool) -> None:
    if way in ("after SIGTSTP", "after SIGSTOP") and not own:
        pytest.skip("nobody continues what is stopped on a terminal that does not control it")
    if own and not shutil.which("setsid"):
        pytest.skip("no setsid")
    chance = random.Random(29)
    took = []
    for _ in range(MOMENTS):
        with Terminal(pier, before=OF_ITS_OWN if own else (), STILLHAND_AUDIO="null") as terminal:
            WAYS[way](terminal, chance)
            terminal.vanish()
            took.append(over(home))
    said(f"{way}, {'controlling' if own else 'not controlling'}", took)


@pytest.mark.timeout(30 + 30 * MOMENTS)
def test_nothing_is_left_when_a_multiplexer_is_ended(pier: str, home: Path, tmp_path: Path) -> None:
    if not shutil.which("tmux"):
        pytest.skip("no tmux")
    chance = random.Random(31)
    took = []
    for turn in range(MOMENTS):
        tmux = ["tmux", "-L", f"gone-{os.getpid()}-{turn}", "-f", os.devnull]
        kept = ("PATH", "HOME", "STILLHAND_HOME", "STILLHAND_AUDIO")
        environ = {name: value for name, value in os.environ.items() if name in kept} | {"LANG": "C.UTF-8"}
        command = f"cd {Path(__file__).parents[2]} && exec {sys.executable} -m tui {pier}"
        subprocess.run([*tmux, "new-session", "-d", "-x", "80", "-y", "24", "sh"], env=environ, check=True)
        subprocess.run([*tmux, "send-keys", command.replace("exec ", "" if turn % 2 else "exec "), "Enter"], check=True)
        time.sleep(chance.uniform(0, 2.5))
        subprocess.run([*tmux, "send-keys", chance.choice(["q", "k", "i", " ", "C-z"])], check=False)
        time.sleep(chance.uniform(0, 0.5))
        subprocess.run([*tmux, "kill-server"], check=False)
        took.append(over(home))
    said("under a multiplexer", took)


def over(home: Path) -> float:
    """Return the seconds until all processes have ended; those that have not are ended then."""
    begin = time.monotonic()
    while (left := left_of(home)) and time.monotonic() - begin < 15.0:
        time.sleep(0.02)
    for line in left:
        with contextlib.suppress(ProcessLookupError):
            os.kill(int(line.split()[0]), signal.SIGKILL)
    return time.monotonic() - begin


def said(way: str, took: list[float]) -> None:
    """Print how long it took, and fail when it took too long."""
    ordered = sorted(took)
    print(f"{way}: {len(took)} moments, median {ordered[len(took) // 2]:.2f} s, most {ordered[-1]:.2f} s")
    late = [seconds for seconds in took if seconds > SECONDS]
    assert not late, f"{way}: {len(late)} of {len(took)} left something behind for {max(late):.1f} s"
