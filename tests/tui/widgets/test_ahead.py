"""The coming bars."""

from tests.tui import charts
from tests.tui.drawn_text import picture_text
from tui.widgets.ahead import COUNT, ahead, ahead_rows
from tui.widgets.cells import row_text

STEPS = charts.unfold(charts.HARBOUR)


def test_the_bars_after_the_present_one_are_shown_and_a_new_section_is_named() -> None:
    coming = ahead(STEPS, 0)
    assert len(coming.bars) == COUNT
    assert coming.bars[0] == "B♭7"
    assert coming.bars[1].startswith("Verse: ")


def test_behind_the_end_of_the_song_there_is_nothing() -> None:
    assert ahead(STEPS, len(STEPS) - 1).bars == ("",) * COUNT
    assert ahead((), 0).bars == ("",) * COUNT


def test_two_chords_of_a_bar_stand_in_one() -> None:
    doubles = [
        bar for index in range(len(STEPS)) for bar in ahead(STEPS, index).bars if " " in bar.removeprefix("Verse: ")
    ]
    assert "Cm7 F7" in doubles


def test_any_size_is_filled_exactly() -> None:
    for width in (1, 20, 80, 200):
        for height in (0, 1, 3):
            rows = ahead_rows(ahead(STEPS, 2), width, height)
            assert len(rows) == height
            assert {len(row) for row in rows} <= {width}


def test_three_rows_are_letters() -> None:
    assert "█" in picture_text(ahead_rows(ahead(STEPS, 0), 160, 3))
    assert "B♭7" in row_text(ahead_rows(ahead(STEPS, 0), 100, 1)[0])
