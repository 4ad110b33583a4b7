"""Published values in `published`; open corpora lie beside the repository while it is developed, else are skipped."""

import json
from pathlib import Path
from typing import Any

import pytest

PUBLISHED = Path(__file__).parent / "published"
CORPORA = Path(__file__).parents[3] / "shared" / "reference"


@pytest.fixture
def published():
    """Return a function that reads a file of published values; each says what it holds and its source."""

    def values(name: str) -> dict[str, Any]:
        return json.loads((PUBLISHED / name).read_text(encoding="utf-8"))

    return values


@pytest.fixture
def corpus():
    """Return a function that reads the songs of an open corpus, or skips the test."""

    def songs(name: str) -> list[dict[str, Any]]:
        path = CORPORA / name
        if not path.exists():
            pytest.skip(f"the open corpus {name} is not beside this checkout")
        return json.loads(path.read_text(encoding="utf-8"))["songs"]

    return songs
