"""Nothing in the folder the player stands in is ever run, whatever its name."""

import subprocess
import sys
from pathlib import Path

import pytest

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
    names = modules_of(
        "import tui.planning.worker, tui.midi.clock_process, tui.app, tui.cli.export, engine.planning.planner"
    )
    names |= set(sys.stdlib_module_names) | {"tui", "engine", "stillhand", "sitecustomize", "usercustomize", "mido"}
    for name in names:
        (folder / f"{name}.py").write_text(f"open({str(folder / 'run')!r}, 'a').write('{name} ')\n")
    return folder


@pytest.mark.parametrize("work", [PLAN, POOL, PORTS], ids=["worker", "pool", "ports"])
def test_no_process_of_ours_runs_a_file_of_the_current_folder(trapped: Path, tmp_path: Path, work: str) -> None:
    script = tmp_path / "work.py"
    script.write_text(f"import sys; sys.path.insert(0, {str(ROOT)!r})\n{work}")
    told = subprocess.run([sys.executable, "-P", script], cwd=trapped, capture_output=True, text=True, timeout=60)
    assert told.stdout.strip() == "2", told.stderr
    assert not (trapped / "run").exists(), (trapped / "run").read_text()
