import re
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.planning.model import PlannedNote, PlannedStep
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from tests.tui.drawn_text import picture_text
from tests.tui.widgets.planned import SIXTH, TONIC, WIDE, exactly, note, place, plan_of, planned
from tui.widgets.cells import Rows
from tui.widgets.keyboard import keyboard_rows, song_range


def roles(rows: Rows) -> set[str]:
    return {role for row in rows for _, role in row}


@st.composite
def grips(draw: st.DrawFn) -> PlannedStep:
    keys = sorted(draw(st.sets(st.integers(0, 127), max_size=10)))
    notes = tuple(PlannedNote(key, "C4", "1", place % 5 + 1, "press", None) for place, key in enumerate(keys))
    return planned(place(), notes[: len(notes) // 2], notes[len(notes) // 2 :])


@settings(max_examples=150, deadline=None)
@given(grips(), grips(), st.integers(0, 127), st.integers(0, 127), st.integers(1, 300), st.integers(1, 100))
def test_any_grip_on_any_range_fits_any_panel(
    now: PlannedStep, coming: PlannedStep, low: int, high: int, width: int, height: int
) -> None:
    assert exactly(keyboard_rows(now, coming, low, high, width, height, (60, 61)), width, height)
    assert exactly(keyboard_rows(None, None, low, high, width, height), width, height)


@pytest.mark.parametrize("width", [44, 60, 80, 120, 200])
@pytest.mark.parametrize("height", [2, 4, 6, 8, 12])
def test_each_sounding_key_wears_its_hand(width: int, height: int) -> None:
    left_only = planned(place(), TONIC.left)
    assert not any(role.startswith("right") for role in roles(keyboard_rows(left_only, None, 36, 71, width, height)))
    both = roles(keyboard_rows(TONIC, None, 36, 71, width, height))
    assert any(role.startswith("left") for role in both)
    assert any(role.startswith("right") for role in both)


def test_the_hands_differ_without_colour() -> None:
    one = note("G3", 1)
    left = picture_text(keyboard_rows(planned(place(), (one,)), None, 48, 71, 80, 8))
    right = picture_text(keyboard_rows(planned(place(), (), (one,)), None, 48, 71, 80, 8))
    assert left != right
    assert "▒" in left
    assert "▒" not in right


def test_finger_numbers_differ() -> None:
    drawn = {
        picture_text(keyboard_rows(planned(place(), (), (note(key, finger),)), None, 48, 71, 80, 8))
        for finger in range(1, 6)
        for key in ("D4", "Eb4")
    }
    assert len(drawn) == 10


def test_a_coarse_console_gets_finger_numbers_in_half_blocks() -> None:
    rows = keyboard_rows(TONIC, None, 48, 71, 80, 8, coarse=True)
    drawn = {char for row in rows for char, role in row if role in ("left", "right")}
    assert {"▀", "█"} <= drawn
    assert not set("▖▗▘▝▙▛▜▟▚▞▌▐") & drawn


def test_a_coarse_console_gets_typed_finger_numbers_on_narrow_keys() -> None:
    text = picture_text(keyboard_rows(TONIC, None, 36, 71, 80, 8, coarse=True))
    fingers = re.sub(r"C\d", "", text)
    # The fifth lies on a black key, which is drawn broader.
    assert sorted(char for char in fingers if char.isdigit()) == ["1", "3", "3", "4"]
    assert not set("▖▗▘▝▙▛▜▟▚▞") & set(text)


@pytest.mark.parametrize(("width", "height"), [(60, 6), (80, 7), (120, 11), (200, 14)])
def test_the_next_chords_keys_wear_the_number_of_their_finger_open(width: int, height: int) -> None:
    rows = keyboard_rows(None, SIXTH, 36, 71, width, height)
    for hand, notes in (("left", SIXTH.left), ("right", SIXTH.right)):
        # White and black keys have their plates in rows of their own: columns in which one begins, over all rows.
        lines = [[role for _, role in row] for row in rows]
        begun = {at for line in lines for at, (a, b) in enumerate(pairwise(["", *line])) if a != b == f"{hand} open"}
        assert len(begun) >= len(notes)
    assert {role for row in rows for _, role in row if "open" in role} == {"left open", "right open"}


def test_a_finger_that_stays_keeps_its_filled_number_and_a_ring() -> None:
    assert picture_text(keyboard_rows(SIXTH, SIXTH, 36, 71, 80, 8)).count("○") == len(SIXTH.keys)


def test_octaves_are_marked_on_their_c() -> None:
    text = picture_text(keyboard_rows(None, None, 36, 83, 120, 8))
    assert all(f"C{octave}" in text for octave in (2, 3, 4, 5))


def test_a_held_key_wears_a_dot() -> None:
    assert picture_text(keyboard_rows(None, None, 36, 71, 80, 8, (60, 61))).count("●") == 2


def test_a_key_below_the_range_widens_it() -> None:
    low = planned(place(), (note("C1", 5),))
    assert any(role.startswith("left") for role in roles(keyboard_rows(low, None, 48, 71, 80, 8)))


def test_hands_far_apart_get_a_keyboard_each() -> None:
    rows = keyboard_rows(WIDE, None, 24, 103, 60, 6)
    assert {role for row in rows for _, role in row[28:32]} >= {"back"}
    assert {"left", "right"} <= roles(rows)


def test_a_songs_range_begins_on_c_or_f_and_ends_on_e_or_b() -> None:
    low, high = song_range(plan_of(TONIC, SIXTH))
    assert (low, high) == (36, 71)
    assert song_range(plan_of()) == (48, 76)


@given(st.lists(st.integers(0, 127), min_size=1, max_size=6))
def test_a_songs_range_holds_every_key(keys: list[int]) -> None:
    notes = tuple(PlannedNote(key, "C4", "1", 1, "press", None) for key in sorted(keys))
    low, high = song_range(plan_of(planned(place(), notes)))
    assert 0 <= low <= min(keys)
    assert max(keys) <= high <= 127


def test_the_tonic_and_the_way_on(same_picture: Callable[[Rows], None]) -> None:
    same_picture(keyboard_rows(TONIC, SIXTH, 36, 71, 66, 8))


def test_a_patterns_other_position_stands_open_where_the_next_chord_would() -> None:
    song = replace(song_from_chart("| G7 | C |"), left_hand="stride")
    stride, last = plan(unfold(song)).steps
    low, high = song_range(plan(unfold(song)))
    open_left = [
        cell for row in keyboard_rows(stride, last, low, high, 200, 8) for cell in row if cell[1] == "left open"
    ]
    alone = [cell for row in keyboard_rows(stride, None, low, high, 200, 8) for cell in row if cell[1] == "left open"]
    assert open_left
    assert open_left == alone
    assert low <= min(stride.touched)
