"""What the stand says in words."""

import pytest

from tests.tui import charts
from tui.screens.stand_words import notes_here


@pytest.mark.parametrize(
    ("note", "bar", "shown"),
    [
        ("softly", 1, ["softly"]), ("Verse bar 2: wait", 2, ["wait"]), ("Verse bar 2: wait", 1, []),
        ("softly\nVerse bar 1: in", 1, ["in", "softly"]), ("mind: the gap", 1, ["mind: the gap"]),
    ],
)  # fmt: skip
def test_notes_stand_where_they_belong(note: str, bar: int, shown: list[str]) -> None:
    steps = charts.unfold(charts.song("X", charts.section("Verse", "C", "F")))
    assert notes_here(note, steps[bar - 1]) == shown
