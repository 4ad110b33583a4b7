import pytest

from engine.planning.model import Plan, Request
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold


@pytest.fixture
def planned():
    """Return a function that plans chords written in one line: planned("Dm7 G7", method="shell")."""

    def run(chords: str, key: str = "C", **asked: object) -> Plan:
        bars = "| " + " | ".join(chords.split()) + " |"
        return plan(unfold(song_from_chart(bars, key=key)), Request(**asked))

    return run
