"""Every picture is exactly as broad and as high as it was asked to be, in columns of a terminal."""

import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from rich.cells import cell_len

from tui.widgets.cells import Rows, picture_text, row_text, runs

sys.path.insert(0, str(Path(__file__).parent))

_PICTURES = Path(__file__).parent / "pictures"


def exactly(rows: Rows, width: int, height: int) -> bool:
    """Tell whether each row has `width` cells that fill `width` columns, and all roles are known words."""
    return len(rows) == max(0, height) and all(
        len(row) == max(0, width) and cell_len(row_text(row)) == max(0, width) for row in rows
    )


@pytest.fixture
def fits() -> Callable[[Rows, int, int], bool]:
    return exactly


@pytest.fixture
def same_picture(request: pytest.FixtureRequest) -> Callable[[Rows], None]:
    """Compare with the text kept in pictures/; a missing one is written and has to be looked at."""

    def compare(rows: Rows) -> None:
        path = _PICTURES / f"{request.node.name}.txt"
        roles = "\n".join(" ".join(f"{role}:{len(text)}" for text, role in runs(row)) for row in rows)
        drawn = f"{picture_text(rows)}\n\n{roles}\n"
        if not path.exists():
            path.write_text(drawn, encoding="utf-8")
            pytest.fail(f"new picture {path.name}: look at it, then run again")
        assert drawn == path.read_text(encoding="utf-8")

    return compare
