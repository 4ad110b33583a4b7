"""What tests of the program start from: a home of its own, a set on the stand, and pictures kept as text."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from tests.tui import charts, sets_in_files
from tests.tui.commands import Run, ran
from tests.tui.drawn_text import picture_text
from tui.session import rehearsal as stand
from tui.session.rehearsal import Rehearsal
from tui.widgets.cells import Rows, runs


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of settings and sessions, not made yet: the player's own is out of reach, and so is what a developer's
    terminal sets."""
    monkeypatch.setenv("STILLHAND_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
    for name in ("NO_COLOR", "COLORTERM", "STILLHAND_THEME"):
        monkeypatch.delenv(name, raising=False)
    return tmp_path / "home"


@pytest.fixture
def pier(tmp_path: Path) -> str:
    """The path of a set of one song, as it is typed in a shell."""
    return str(sets_in_files.pier(tmp_path))


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Return a function that runs a command in a folder of its own and gives (exit code, output, errors)."""
    monkeypatch.chdir(tmp_path)
    return partial(ran, capsys)


@pytest.fixture
def harbour() -> Rehearsal:
    """The set of three songs, open at its first chord."""
    return stand.opened(charts.harbour_set(), charts.unfold)


@pytest.fixture
def same_picture(request: pytest.FixtureRequest) -> Callable[[Rows], None]:
    """Compare with the characters and the roles kept in pictures/ beside the test; a missing one is written and has to
    be looked at."""

    def compare(rows: Rows) -> None:
        path = request.path.parent / "pictures" / f"{request.node.name}.txt"
        roles = "\n".join(" ".join(f"{role}:{len(text)}" for text, role in runs(row)) for row in rows)
        drawn = f"{picture_text(rows)}\n\n{roles}\n"
        if not path.exists():
            path.write_text(drawn, encoding="utf-8")
            pytest.fail(f"new picture {path.name}: look at it, then run again")
        assert drawn == path.read_text(encoding="utf-8")

    return compare
