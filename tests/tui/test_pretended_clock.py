"""What stands in for the clock can be asked what the clock can be asked, and nothing else."""

from inspect import isfunction, signature

import pytest

from tests.tui.pretended_clock import PretendedClock
from tui.midi.clock import Clock

ASKED = [name for name, one in vars(PretendedClock).items() if isfunction(one) and not name.startswith("_")]


@pytest.mark.parametrize("name", ASKED)
def test_it_is_asked_as_the_clock_is(name: str) -> None:
    assert signature(getattr(PretendedClock, name)) == signature(getattr(Clock, name))
