from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.planning.model import PlannedNote, PlannedStep
from tests.tui.drawn_text import picture_text
from tests.tui.signs import ink_runs
from tests.tui.widgets.planned import SIXTH, exactly, note, place, planned
from tui.widgets.cells import Rows, row_text
from tui.widgets.moves import moves_rows, rows_for, slots

MOVES = st.sampled_from(["hold", "press", "slide", "refinger", "unheard of"])


@st.composite
def shifts(draw: st.DrawFn) -> PlannedStep:
    def hand() -> tuple[PlannedNote, ...]:
        fingers = draw(st.sets(st.integers(1, 5)))
        keys = st.integers(0, 127)
        return tuple(PlannedNote(draw(keys), "Ab-1", "1", f, draw(MOVES), draw(st.none() | keys)) for f in fingers)

    return planned(place(), hand(), hand(), (((3, 60),), ((2, 61),)))


@settings(max_examples=150, deadline=None)
@given(st.none() | shifts(), st.integers(1, 300), st.integers(1, 100))
def test_any_shift_fits_any_panel(coming: PlannedStep | None, width: int, height: int) -> None:
    assert exactly(moves_rows(coming, width, height), width, height)


def test_the_slots_lie_as_the_hands_do() -> None:
    assert [(slot.hand[0], slot.finger) for slot in slots(SIXTH)] == [
        *(("l", finger) for finger in (5, 4, 3, 2, 1)),
        *(("r", finger) for finger in (1, 2, 3, 4, 5)),
    ]


def test_each_move_has_its_sign() -> None:
    signs = {(slot.hand, slot.finger): slot.sign for slot in slots(SIXTH)}
    assert signs["left", 5] == "▼3"
    assert signs["left", 1] == "~"
    assert signs["right", 1] == "="
    assert signs["right", 3] == "▲1"
    assert signs["right", 4] == "-"
    assert signs["right", 5] == "+"
    assert signs["right", 2] == ""


def test_two_rows_are_a_line_a_hand() -> None:
    lines = [row_text(row).rstrip() for row in moves_rows(SIXTH, 60, 2)]
    assert lines == ["LH 5▼3 C2  1~ G2", "RH 1= G3  3▲1 E♭4  4-  5+ B♭4"]


@pytest.mark.parametrize("width", [80, 120, 160, 240, 300])
@pytest.mark.parametrize("height", [3, 4, 7])
def test_up_and_down_look_different(width: int, height: int) -> None:
    up = planned(place(), (), (note("D4", 3, "slide", "C4"),))
    down = planned(place(), (), (note("D4", 3, "slide", "E4"),))
    assert picture_text(moves_rows(up, width, height)) != picture_text(moves_rows(down, width, height))


def test_a_coarse_console_gets_typed_moves() -> None:
    text = picture_text(moves_rows(SIXTH, 80, 4, coarse=True))
    assert "5▼3 C2" in text
    assert not set("▖▗▘▝▙▛▜▟▚▞▌▐") & set(text)


def test_a_coarse_console_gets_large_moves_one_hand_above_the_other() -> None:
    rows = moves_rows(SIXTH, 80, 6, coarse=True)
    assert not set("▖▗▘▝▙▛▜▟▚▞▌▐") & set(picture_text(rows))
    assert "C2" in picture_text(rows[:3])
    assert all(any(role == "left" for _, role in row) for row in rows[:3])
    assert all(any(role == "right" for _, role in row) for row in rows[3:])


@pytest.mark.parametrize(("width", "pixels"), [(80, 5), (100, 6), (120, 8), (200, 12)])
def test_signs_and_names_grow_with_the_rows_they_have(width: int, pixels: int) -> None:
    rows = moves_rows(SIXTH, width, rows_for(width, pixels))
    assert len(rows) == pixels + 1
    assert ink_runs(rows, "left", "right")[0] == pixels
    assert ink_runs(rows, "left sign", "right sign")[-1] == pixels


def test_a_shift_at_its_usual_size(same_picture: Callable[[Rows], None]) -> None:
    same_picture(moves_rows(SIXTH, 80, 4))
