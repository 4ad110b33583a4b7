from collections.abc import Callable

import pytest

from engine.planning.model import Plan
from engine.song.model import Song
from tests.engine.performance.by_hand import FOUR, plan_by_hand


@pytest.fixture
def planned() -> Callable[..., Plan]:
    """Return the maker of plans: (beats, left keys, right keys, facts of the step) for each step."""
    return plan_by_hand


@pytest.fixture
def song() -> Song:
    """A song in 4/4 at 120 with a count of one bar: a beat is half a second."""
    return Song("Try", "C", FOUR, 120.0)
