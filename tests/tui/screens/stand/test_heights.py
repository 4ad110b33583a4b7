"""The rows of the stand shared out among its bands."""

import pytest

from tui.screens.stand.heights import heights
from tui.session.rehearsal import LAYOUTS


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("height", range(14, 70))
def test_the_rows_are_shared_out_without_rest(layout: str, height: int) -> None:
    shared = heights(80, height, layout)
    parts = (shared.bar, shared.chords, shared.moves, shared.keyboard, shared.roadmap, shared.place, shared.status)
    assert sum(parts) == height
    assert min(parts) >= 0
    assert shared.chords >= 3


def test_the_leader_has_larger_chords_and_smaller_hands() -> None:
    leader, player = heights(120, 36, "leader"), heights(120, 36)
    assert leader.chords > player.chords
    assert leader.keyboard < player.keyboard
