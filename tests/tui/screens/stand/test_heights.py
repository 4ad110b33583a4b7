"""The rows of the stand shared out among its bands."""

from dataclasses import astuple

import pytest

from tui.screens.stand.heights import heights, with_words
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


@pytest.mark.parametrize(("width", "height"), [(60, 20), (80, 24), (80, 30), (100, 30), (120, 36), (200, 60)])
@pytest.mark.parametrize("whole", [False, True])
def test_long_words_take_rows_from_others_and_the_window_stays_filled(width: int, height: int, whole: bool) -> None:
    before = heights(width, height)
    after = with_words(before, 2, whole)
    assert after.place >= 2
    assert sum(astuple(after)) == sum(astuple(before)) == height
    assert after.moves == before.moves
    assert before.chords - after.chords == (1 if (width, height) == (100, 30) and not whole else 0)
    assert after.keyboard == (0 if whole else before.keyboard)


@pytest.mark.parametrize(("width", "height"), [(80, 24), (100, 24), (100, 27), (100, 30), (120, 36), (200, 60)])
def test_coming_bars_that_were_asked_for_or_are_promised_stay_beside_long_words(width: int, height: int) -> None:
    assert with_words(heights(width, height, looks_ahead=True), 2).ahead


def test_words_that_fit_change_nothing() -> None:
    assert with_words(heights(80, 24), 1, whole=True) == heights(80, 24)
