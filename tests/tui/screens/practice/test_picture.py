"""The shed's picture as a value: always its size, legible without colour."""

import re
from dataclasses import replace
from datetime import date, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from engine.practice.log import Try, remembered
from engine.practice.practice_plan import tonight
from engine.practice.ranking import Ranking, meetings, ranked
from tests.tui import charts
from tests.tui.drawn_text import picture_text
from tui.screens.practice.picture import ShedView, progress_rows, shed_rows
from tui.widgets.cells import row_text

NOW = datetime(2026, 3, 2, 20, 30)


def ranking(tempo: float = 260.0) -> Ranking:
    song = replace(charts.HARBOUR, tempo=tempo)
    return ranked(meetings(0, song, charts.plan_of(charts.unfold(song))))


def view(**more: object) -> ShedView:
    hard = ranking()
    tries = [Try(NOW - timedelta(days=days), hard.shifts[0].shift.sign, 60.0 + days, days != 2) for days in (3, 2, 1)]
    facts: dict[str, object] = {
        "ranking": hard, "memories": remembered(tries), "tempo": 60.0, "planned": (3, 3),
        "evening": tonight(hard, {}, 30.0, NOW), "left": 125.0,
    }  # fmt: skip
    return ShedView(**{**facts, **more})  # type: ignore[arg-type]


@settings(deadline=None, max_examples=60)
@given(
    st.integers(1, 220), st.integers(1, 70), st.integers(0, 40), st.booleans(), st.booleans(), st.integers(0, 12),
    st.sampled_from([0.0, 20.0, 92.5, 400.0]),
)  # fmt: skip
def test_the_picture_has_exactly_its_size(
    width: int, height: int, cursor: int, caution: bool, empty: bool, turn: int, tempo: float
) -> None:
    shifts = Ranking(()) if empty else ranking()
    rows = shed_rows(
        view(
            ranking=shifts, cursor=min(cursor, max(0, len(shifts.shifts) - 1)), caution=caution, turn=turn, tempo=tempo
        ),
        width,
        height,
    )
    assert len(rows) == height
    assert all(len(row) == width for row in rows)


def test_late_hands_are_marked_with_a_sign_and_words_not_by_colour_alone() -> None:
    fast = ranked(meetings(0, replace(charts.HARBOUR, tempo=400.0), charts.plan_of(charts.unfold(charts.HARBOUR))))
    assert fast.shifts[0].load > 1
    picture = picture_text(shed_rows(view(ranking=fast), 80, 22))
    assert "% !" in picture
    assert "too little" in picture


def test_the_ladder_begins_here_and_ends_at_the_songs_tempo() -> None:
    rows = [row_text(row) for row in shed_rows(view(), 80, 22)]
    (ladder,) = [row for row in rows if row.startswith(" ladder")]
    assert ladder.startswith(" ladder [60]  63  66  69  72  76")
    assert ladder.rstrip().endswith("… 260")


def test_tonights_turn_says_what_time_is_left_and_what_comes() -> None:
    first = row_text(shed_rows(view(), 120, 22)[0])
    assert "turn 1 of 10  1 " in first
    assert "2:05 left   then 2 " in first


def test_no_symbol_is_cut_and_each_hand_has_its_words() -> None:
    picture = picture_text(shed_rows(view(), 80, 22))
    hard = ranking().shifts[0]
    assert f"{hard.tightest.section} bar {hard.tightest.bar}" in picture
    assert "\n LH " in picture
    assert "\n RH " in picture


def test_progress_has_a_column_an_evening_and_an_empty_ring_for_one_without_a_clean_try() -> None:
    evenings = [(date(2026, 3, 1), 60.0, 4), (date(2026, 3, 2), 0.0, 2), (date(2026, 3, 3), 120.0, 5)]
    rows = [row_text(row) for row in progress_rows(evenings, 120.0, 60, 3)]
    assert [row[14] for row in rows] == ["█", "█", "█"]
    assert rows[2][10] == "█"
    assert rows[0][10] == " "
    assert rows[2][12] == "○"
    assert "best 120, 2026-03-01 to 2026-03-03" in rows[2]


def test_progress_begins_with_an_invitation() -> None:
    assert "no evening yet" in row_text(progress_rows([], 120.0, 80, 3)[2])


@given(
    st.lists(st.tuples(st.dates(), st.floats(0, 400), st.integers(1, 9)), max_size=200), st.floats(20, 400),
    st.integers(1, 200), st.integers(1, 6),
)  # fmt: skip
def test_progress_fits_any_number_of_evenings(
    evenings: list[tuple[date, float, int]], goal: float, width: int, height: int
) -> None:
    rows = progress_rows(evenings, goal, width, height)
    assert [len(row) for row in rows] == [width] * height


def test_notes_of_the_moves_are_written_with_the_same_signs_as_the_chords() -> None:
    rows = [row_text(row) for row in shed_rows(view(), 100, 40)]
    moves = " ".join(row for row in rows if row.startswith((" LH ", " RH ")))
    assert "♭" in moves or "♯" in moves
    assert not re.search(r"[A-G][#b]", moves)
