from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from engine.song.model import Step
from tests.tui.widgets.planned import exactly, place
from tui.widgets.cells import Rows, row_text
from tui.widgets.roadmap import place_figures, place_words, roadmap_rows

SONG = tuple(
    place("C", name, bar, turn, of, start=bar == 1)
    for name, turn, of in [("Intro", 1, 1), ("Verse", 1, 3), ("Verse", 2, 3), ("Bridge", 1, 1), ("Verse", 3, 3)]
    for bar in range(1, 9)
)


def test_the_place_in_words() -> None:
    assert place_words(SONG, 20) == "Verse, bar 5 of 8, pass 2 of 2"
    assert place_words(SONG, 25) == "Bridge, bar 2 of 8"
    assert place_words((place(bar=0),), 0) == "Verse, pickup"


def test_a_repeat_inside_a_section_tells_its_time() -> None:
    steps = tuple(replace(place("C", "Vamp", 2, start=not turn), turn=turn + 1, turns=2) for turn in range(2))
    assert place_words(steps, 1) == "Vamp, bar 2 of 8, time 2 of 2"
    assert place_figures(steps, 1, 200) == "Vamp  bar 2/8  time 2/2"
    assert place_figures(steps, 1, 50) == "Vamp 2/8 (2/2)"


def test_the_place_in_large_letters_is_as_long_as_there_is_room() -> None:
    assert place_figures(SONG, 20, 200) == "Verse  bar 5/8  pass 2/2"
    assert place_figures(SONG, 20, 60) == "Verse 5/8 (2/2)"


def test_the_present_section_is_marked() -> None:
    strip = row_text(roadmap_rows(SONG, 17, 80, 1)[0])
    assert "[Verse 2/2]" in strip
    assert strip.count("[") == 1


@pytest.mark.parametrize("index", range(0, 40, 3))
def test_the_present_section_is_never_scrolled_away(index: int) -> None:
    strip = row_text(roadmap_rows(SONG, index, 24, 1)[0])
    assert f"[{SONG[index].section}" in strip


@settings(max_examples=100, deadline=None)
@given(st.lists(st.text(max_size=12), max_size=12), st.integers(-2, 20), st.integers(1, 200), st.integers(1, 20))
@example(["", "", "", "", "0000000", "00⺀"], 4, 19, 1)
def test_any_roadmap_fits_any_panel(names: list[str], index: int, width: int, height: int) -> None:
    steps: tuple[Step, ...] = tuple(place("C", name, start=True) for name in names)
    assert exactly(roadmap_rows(steps, index, width, height), width, height)


def test_the_bridge_of_a_song(same_picture: Callable[[Rows], None]) -> None:
    same_picture(roadmap_rows(SONG, 25, 80, 4))
