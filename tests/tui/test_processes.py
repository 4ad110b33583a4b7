"""Nothing in the folder the player stands in is ever run, whatever its name."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.tui.terminal import Terminal

ROOT = Path(__file__).parents[2]

PLAN = """
import asyncio
from engine.planning.model import Request
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from tui.planning.client import Planner

async def plan():
    planner = Planner()
    await planner.start()
    try:
        steps = unfold(song_from_chart("| Dm7 | G7 |", "C", "4/4", 100))
        print(len((await planner.plan(steps, Request())).steps))
    finally:
        await planner.close()

asyncio.run(plan())
"""
POOL = """
from engine.planning.model import Request
from engine.song.reader import song_from_chart
from tui.planning.pool import plan_all

if __name__ == "__main__":
    song = song_from_chart("| Dm7 | G7 |", "C", "4/4", 100)
    print(len(plan_all([(song, Request())] * 2, workers=2)))
"""
PORTS = """
from tui.midi.port_list import ports_seen
ports_seen()
print(2)
"""
CLOCK = """
import os, tempfile, time
from pathlib import Path
from tui.audio import BUILT_IN
from tui.midi.clock import Clock

os.environ["STILLHAND_AUDIO"] = "null"
clock = Clock(Path(tempfile.mkdtemp()) / "log", lambda event: None, "tui.playback.sound_process", (BUILT_IN,))
clock.start()
clock.open(BUILT_IN)
end = time.monotonic() + 30
while not clock.ready and time.monotonic() < end:
    time.sleep(0.01)
clock.sound((60, 64))
time.sleep(0.2)
print(2 if clock.ready else clock.status)
clock.close()
"""
EXPORT = """
import contextlib, tempfile
from pathlib import Path
from tui.cli.main import main

if __name__ == "__main__":
    folder = Path(tempfile.mkdtemp())
    song = folder / "song.toml"
    song.write_text('title = "One"\\nkey = "C"\\nmeter = "4/4"\\ntempo = 90\\n[sections.A]\\nbars = "| C | G7 |"\\n')
    for ending in ("pdf", "wav", "mid", "musicxml"):
        sys.argv = ["stillhand", "export", str(song), "--to", str(folder / f"one.{ending}")]
        with contextlib.suppress(SystemExit), contextlib.redirect_stdout(sys.stderr):
            main()
    print(len([*folder.glob("one.*")]) // 2)
"""
ALL_OF_OURS = """
import contextlib, importlib, pkgutil
import engine, tui
for package in (engine, tui):
    for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        with contextlib.suppress(ImportError):
            importlib.import_module(module.name)
"""
STAND = f"import sys; sys.path[:] = [{str(ROOT)!r}, *filter(None, sys.path)]; from tui.cli.main import main; main()"


def modules_of(code: str) -> set[str]:
    """Return the names of all modules that a piece of work imports."""
    told = subprocess.run(
        [sys.executable, "-P", "-c", f"import sys; sys.path.insert(0, {str(ROOT)!r})\n{code}\nprint(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
    )
    return {name.partition(".")[0] for name in told.stdout.split()}


@pytest.fixture(scope="module")
def trapped(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a file of every module's name; each leaves its name in `run` when it is run."""
    folder = tmp_path_factory.mktemp("trapped")
    names = modules_of(ALL_OF_OURS)
    names |= set(sys.stdlib_module_names) | {"tui", "engine", "stillhand", "sitecustomize", "usercustomize", "mido"}
    for name in names:
        (folder / f"{name}.py").write_text(f"open({str(folder / 'run')!r}, 'a').write('{name} ')\n")
    return folder


@pytest.mark.parametrize("work", [PLAN, POOL, PORTS, CLOCK, EXPORT], ids=["worker", "pool", "ports", "clock", "export"])
def test_no_process_of_ours_runs_a_file_of_the_current_folder(trapped: Path, tmp_path: Path, work: str) -> None:
    script = tmp_path / "work.py"
    script.write_text(f"import sys; sys.path.insert(0, {str(ROOT)!r})\n{work}")
    told = subprocess.run([sys.executable, "-P", script], cwd=trapped, capture_output=True, text=True, timeout=60)
    assert told.stdout.strip() == "2", told.stderr
    assert not (trapped / "run").exists(), (trapped / "run").read_text()


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals")
def test_the_stand_and_its_screens_run_no_file_of_the_current_folder(trapped: Path, pier: str) -> None:
    with Terminal(pier, code=STAND, folder=trapped, STILLHAND_AUDIO="null") as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        for key in ("s", "b", "y", "a", "m", "?", "\t"):
            terminal.press(key)
            terminal.read(0.4)
            terminal.press("\x1b")
            terminal.read(0.3)
        terminal.press("0i")
        terminal.wait_for("● 1")
        terminal.press("xq")
        assert terminal.end() == 0
    assert not (trapped / "run").exists(), (trapped / "run").read_text()
