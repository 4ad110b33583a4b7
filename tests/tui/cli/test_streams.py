"""Standard streams that are closed, full or endless: one line and a code, never a traceback, never for ever."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[3]
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="a shell of POSIX")


def shell(line: str, folder: Path) -> tuple[int, str]:
    """Run a line in a shell, `stillhand` being ours; return its code and what it said on both streams."""
    environ = {**os.environ, "PYTHONPATH": str(ROOT), "STILLHAND_HOME": str(folder)}
    line = line.replace("stillhand", f"'{sys.executable}' -m tui")
    done = subprocess.run(
        ["bash", "-c", line], capture_output=True, text=True, cwd=folder, env=environ, timeout=60, check=False
    )
    return done.returncode, done.stdout + done.stderr


@pytest.mark.parametrize(
    ("line", "code", "words"),
    [
        ("stillhand chord C >&-", 1, "standard output is closed"),
        ("stillhand chord C >/dev/full", 1, "stillhand: "),
        ("stillhand chord C <&-", 0, "1 C"),
        ("stillhand chord Q 2>&-", 1, ""),
        ("stillhand new a.toml <&-", 130, "Nothing is written"),
        ("stillhand new a.toml </dev/null", 130, "Nothing is written"),
        ("echo Pier | stillhand new a.toml", 130, "Nothing is written"),
        ("mkfifo pipe.xml; stillhand import pipe.xml", 1, "that is no file"),
        ("head -c 50000000 /dev/zero | tr '\\0' C | stillhand chord -", 2, "one symbol a line"),
        ("stillhand import /dev/zero", 1, "too large"),
    ],
)
def test_a_stream_that_is_not_as_usual_is_said_in_one_line(tmp_path: Path, line: str, code: int, words: str) -> None:
    if "/dev/full" in line and not Path("/dev/full").exists():
        pytest.skip("no /dev/full")
    ended, said = shell(f"set -o pipefail; {line}", tmp_path)
    assert (ended, "Traceback" in said, "fault of ours" in said) == (code, False, False), said
    assert words in said
    assert not (tmp_path / "a.toml").exists()
