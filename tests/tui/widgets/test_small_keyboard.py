from hypothesis import given
from hypothesis import strategies as st

from tests.tui.widgets.planned import SIXTH, TONIC, WIDE, exactly
from tui.widgets.cells import row_text
from tui.widgets.small_keyboard import small_keyboard_rows


def test_the_fingers_stand_on_their_keys() -> None:
    row = small_keyboard_rows(TONIC, 36, 71, 36)[0]
    assert {place + 36: char for place, (char, _) in enumerate(row) if char.isdigit()} == {
        39: "5",
        43: "3",
        55: "1",
        62: "3",
        65: "4",
    }


def test_the_left_hands_numbers_are_underlined_by_their_role() -> None:
    row = small_keyboard_rows(TONIC, 36, 71, 36)[0]
    assert (row[3], row[19]) == (("5", "left digit"), ("1", "right digit"))


def test_a_narrow_list_shows_the_keys_that_sound() -> None:
    assert row_text(small_keyboard_rows(SIXTH, 21, 108, 40)[0]).startswith("5")


@given(st.sampled_from([None, TONIC, SIXTH, WIDE]), st.integers(0, 127), st.integers(0, 127), st.integers(0, 200))
def test_any_list_is_filled_exactly(step: object, low: int, high: int, width: int) -> None:
    assert exactly(small_keyboard_rows(step, low, high, width), width, 1)  # type: ignore[arg-type]
