"""The engine stands alone: loading it loads no screen and no port. Who may import whom is import-linter's to say."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tui.cli.main import MODULES

ROOT = Path(__file__).parents[1]
SEEN = "; import json, sys; print(json.dumps(sorted({name.split('.')[0] for name in sys.modules})))"


def loaded(statement: str) -> set[str]:
    """Return the top-level packages a fresh process has loaded after `statement`."""
    child = subprocess.run(
        [sys.executable, "-c", statement + SEEN], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )
    return set(json.loads(child.stdout.splitlines()[-1]))


def engine_modules() -> list[str]:
    files = sorted((ROOT / "engine").rglob("*.py"))
    return [".".join(file.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__") for file in files]


def test_the_whole_engine_loads_no_screen_and_no_port() -> None:
    assert not loaded("import " + ", ".join(engine_modules())) & {"tui", "textual", "rich", "rtmidi", "mido", "click"}


@pytest.mark.parametrize("module", ["engine.chord.report", "engine.song.reader", "engine.planning.report"])
def test_reading_music_waits_for_no_arithmetic(module: str) -> None:
    assert "numpy" not in loaded(f"import {module}")


def test_a_chord_on_the_command_line_waits_for_no_screen() -> None:
    run = "from tui.cli.main import commands; commands(['chord', 'Dm7'], standalone_mode=False)"
    assert not loaded(run) & {"textual", "rich", "numpy", "mido", "rtmidi"}


def test_no_command_waits_for_another() -> None:
    commands = {f"tui.cli.{module}" for module in MODULES.values()}
    assert commands
    loaded(f"import sys, tui.cli.main; assert not {commands!r} & set(sys.modules)")
