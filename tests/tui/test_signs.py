"""What is read while playing is high enough to be read at 1.5 m, at every size of the window.

Source: a sign on a stage is at least three times the 5 mm that 20/40 vision reads at 1.5 m (common practice).
"""

import pytest

from tests.tui.signs import SIZES, Sign, ink_runs, opener, signs
from tui.widgets.moves import SIGN, sign_pixels


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_every_sign_of_the_stand_is_read_at_a_metre_and_a_half(width: int, height: int) -> None:
    found = signs(*opener(), width, height)
    assert {sign.name for sign in found} >= {"chord", "next chord", "finger on its key"}
    # The chord after the next is for a glance ahead.
    assert [sign for sign in found if sign.millimetres < SIGN and sign.name != "chord after"] == []


@pytest.mark.parametrize(("width", "height"), [size for size in SIZES if size >= (80, 24)])
def test_a_note_is_named_as_large_as_its_finger(width: int, height: int) -> None:
    found = {sign.name: sign.pixels for sign in signs(*opener(), width, height)}
    assert found["note it goes to"] >= found["finger on its way"]


def test_rows_and_millimetres_follow_from_the_pixels() -> None:
    assert Sign("chord", 6, 24).rows == 3
    assert Sign("chord", 6, 24).millimetres == pytest.approx(21.25)


def test_ink_is_measured_in_half_rows() -> None:
    rows = [[("█", "chord")], [("▀", "chord")], [("▄", "chord"), ("█", "next")]]
    assert ink_runs(rows, "chord") == [3, 1]


@pytest.mark.parametrize("height", range(14, 68))
def test_letters_grow_with_the_rows_of_the_window(height: int) -> None:
    assert Sign("", sign_pixels(height), height).millimetres >= SIGN
