"""Open data kept beside the repository while it is developed; the tests that use it skip where it is not there."""

import json
from pathlib import Path

import pytest

FOLDER = Path(__file__).parents[3] / "shared" / "reference"


@pytest.fixture
def open_data():
    """Return a function that reads the entries of a file of open data, or skips the test."""

    def entries(name: str):
        path = FOLDER / name
        if not path.exists():
            pytest.skip(f"the open data {name} is not beside this checkout")
        content = json.loads(path.read_text())
        if isinstance(content, dict):
            content = next(value for key, value in content.items() if isinstance(value, list))
        return content

    return entries
