"""What holds for all tests: a slow machine is no fault in the music, and the same code gives the same answer twice.

Examples are the same in every run. To search for new ones: HYPOTHESIS_PROFILE=search python -m pytest ...
"""

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

# Processes of the tests play into nothing, as on a machine without a sound card.
os.environ.setdefault("STILLHAND_AUDIO", "null")

settings.register_profile("stillhand", deadline=None, derandomize=True)
settings.register_profile("search", deadline=None, derandomize=False)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "stillhand"))


@pytest.fixture(autouse=True)
def own_paths() -> Iterator[None]:
    """Give the next test its ways to modules back: a command run in the tests' own process keeps its children safe."""
    before = {name: os.environ.get(name) for name in ("PYTHONPATH", "PYTHONSAFEPATH")}
    yield
    for name, value in before.items():
        if value is None:
            os.environ.pop(name, None)
        else:
            os.environ[name] = value
