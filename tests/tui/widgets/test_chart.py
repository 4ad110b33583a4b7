from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.planning.model import PlannedStep
from engine.song.signs import MARKS
from tests.tui.drawn_text import picture_text
from tests.tui.widgets.planned import exactly, place, planned
from tui.widgets.cells import Rows, in_ascii_rows, row_text, text_row
from tui.widgets.chart import LEGEND, chart_rows, effort_bar, passes

SONG = tuple(
    planned(place(symbol, name, bar, turn, of, start=bar == 1 and beat == 1, beat=beat), effort=bar * 0.5)
    for name, turn, of in [("Verse", 1, 2), ("Verse", 2, 2), ("Bridge", 1, 1)]
    for bar, beat, symbol in [(1, 1, "Ebmaj7"), (2, 1, "Cm7"), (2, 3, "F7"), (3, 1, "Fm7"), (4, 1, "Bb13sus4")]
)


def test_two_chords_share_a_bar() -> None:
    first = passes(SONG)[0]
    assert [bar.steps for bar in first.bars] == [(0,), (1, 2), (3,), (4,)]


def test_every_pass_has_its_heading() -> None:
    assert [part.heading for part in passes(SONG)] == [
        "Verse, pass 1 of 2, 8 bars",
        "Verse, pass 2 of 2, 8 bars",
        "Bridge, 8 bars",
    ]


def test_the_hardest_shift_has_the_highest_bar() -> None:
    assert effort_bar(5.0, 5.0) == "▇"
    assert effort_bar(0.0, 5.0) == "▁"
    assert effort_bar(0.0, 0.0) == "▁"


@pytest.mark.parametrize("index", range(len(SONG)))
def test_the_cursor_is_always_in_view(index: int) -> None:
    rows = chart_rows(SONG, index, 40, 3)
    assert "here" in {role for row in rows for _, role in row}


def test_pins_and_loop_are_marked() -> None:
    rows = chart_rows(SONG, 0, 80, 12, frozenset({3}), (1, 3))
    assert picture_text(rows).count("◆") == 1
    assert "┃" in picture_text(rows)


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.text(max_size=12), st.integers(0, 9), st.floats(0, 1000)), max_size=20),
    st.integers(-3, 30), st.integers(1, 200), st.integers(1, 60), st.none() | st.tuples(st.integers(), st.integers()),
)  # fmt: skip
def test_any_song_fits_any_panel(
    bars: list[tuple[str, int, float]], index: int, width: int, height: int, loop: tuple[int, int] | None
) -> None:
    steps: tuple[PlannedStep, ...] = tuple(planned(place(name, name, bar), effort=effort) for name, bar, effort in bars)
    assert exactly(chart_rows(steps, index, width, height, frozenset({0, 2}), loop), width, height)


@pytest.mark.parametrize("mark", MARKS)
def test_every_mark_of_a_chord_has_a_sign_that_the_legend_explains(mark: str) -> None:
    song = (planned(replace(place("Am7", "Verse"), mark=mark)),)
    (sign,) = picture_text(chart_rows(song, 0, 80, 12)).split("Am7")[1].split()[0]
    assert f"{sign} {mark}" in LEGEND
    ascii_sign = row_text(in_ascii_rows([text_row(sign, 1, "text")])[0])
    assert ascii_sign in "<'_=", "nothing that reads as minor, major seventh, sharp or diminished"
    assert f"{ascii_sign} {mark}" in row_text(in_ascii_rows([text_row(LEGEND, 80, "dim")])[0])


def test_the_legend_fits_the_usual_terminal() -> None:
    assert len(LEGEND) < 79


def test_a_verse_in_bars(same_picture: Callable[[Rows], None]) -> None:
    same_picture(chart_rows(SONG, 2, 80, 8, frozenset({3}), (1, 3)))


@pytest.mark.parametrize("width", [60, 80, 100, 120, 160, 200])
def test_no_chord_is_cut_where_a_line_of_one_or_two_bars_has_room_for_it(width: int) -> None:
    bars = [(1, 1, "Ebmaj7"), (1, 3, "Abm(maj7)"), (2, 1, "Bb9sus4"), (2, 3, "Eb7")]
    song = tuple(
        planned(place(symbol, "Verse", bar, 1, 1, start=bar == beat == 1, beat=beat)) for bar, beat, symbol in bars
    )
    drawn = picture_text(chart_rows(song, 0, width, 12))
    assert "…" not in drawn
    assert all(name in drawn for name in ("E♭maj7", "A♭m(maj7)", "B♭9sus4"))
