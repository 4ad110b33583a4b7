"""Pictures kept as text: characters, then the roles of each row."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tui.widgets.cells import Rows, picture_text, runs

_PICTURES = Path(__file__).parent / "pictures"


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
