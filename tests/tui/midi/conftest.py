"""A MIDI path of its own, real or pretended, for every test that wants one."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.tui.midi.rig import Rig, demand, rig
from tests.tui.midi.studio import PRETENDED, Studio


@pytest.fixture
def monitored(tmp_path: Path) -> Iterator[Rig]:
    """A server with a monitor that writes down what comes; skipped where the machine lacks them (see rig.py)."""
    demand()
    with rig(tmp_path, sync=False) as built:
        built.start_server()
        built.start_monitor()
        yield built


@pytest.fixture
def lossless(tmp_path: Path) -> Iterator[Rig]:
    """The same where no client is killed: a server that waits for everybody, and so loses no message however busy the
    machine is. The other kind drops what comes in a cycle that is late (seen: a chord that the clock had sent)."""
    demand()
    with rig(tmp_path, sync=True) as built:
        built.start_server()
        built.start_monitor()
        yield built


@pytest.fixture
def studio(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Studio]:
    """The clock and a pretended MIDI system with one piano."""
    monkeypatch.setenv("PYTHONPATH", str(PRETENDED))
    monkeypatch.setenv("PRETENDED_MIDI", str(tmp_path))
    studio = Studio(tmp_path)
    yield studio
    studio.clock.close()
