"""A MIDI path of its own for every test that wants one."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.tui.devices.rig import Rig, demand, rig


@pytest.fixture
def monitored(tmp_path: Path) -> Iterator[Rig]:
    """A server with a monitor that writes down what comes; skipped where the machine lacks them (see rig.py)."""
    demand()
    with rig(tmp_path, sync=False) as built:
        built.start_server()
        built.start_monitor()
        yield built
