"""Commands called as a person calls them, and the song and the set they are tried on."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.tui.sets_in_files import put
from tui.cli.main import main

ROOT = Path(__file__).parents[2]
SONG = """\
title = "Pier Lights"
key = "C"
meter = "4/4"
tempo = 100
roadmap = "Verse x2"

[sections.Verse]
bars = \"\"\"
| Dm7 | G7 | Cmaj7 | % |
\"\"\"
"""


class Said(NamedTuple):
    code: int
    out: str
    err: str


Run = Callable[..., Said]


def ran(capsys: pytest.CaptureFixture[str], *words: object) -> Said:
    """Run a command; return (exit code, output, errors)."""
    with pytest.raises(SystemExit) as ended:
        main([*map(str, words)])
    said = capsys.readouterr()
    return Said(int(ended.value.code or 0), said.out, said.err)


def piped(*arguments: str, stdin: str = "", **environment: str) -> subprocess.CompletedProcess[str]:
    """Run a command in a process of its own, with all of this as its standard input."""
    environ = {**os.environ, "PYTHONPATH": str(ROOT), **environment}
    command = [sys.executable, "-m", "tui", *arguments]
    return subprocess.run(command, input=stdin, capture_output=True, text=True, env=environ, timeout=60, check=False)


def song_file(folder: Path, text: str = SONG, name: str = "pier.toml") -> str:
    return put(folder, name, text).name


def set_file(folder: Path) -> str:
    """Write a set of two songs, the first of them in another key tonight; return its name."""
    song_file(folder)
    song_file(folder, SONG.replace("Pier Lights", "Second Ferry"), "ferry.toml")
    text = 'title = "Tuesday"\nbass = true\n[[songs]]\nfile = "pier.toml"\nkey = "D"\n[[songs]]\nfile = "ferry.toml"\n'
    return put(folder, "tuesday.toml", text).name
