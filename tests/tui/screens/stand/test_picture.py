"""The stand as a picture of cells: any song, any size, each layout."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.tui import charts
from tests.tui.drawn_text import picture_text
from tui.screens.stand.picture import stand_parts
from tui.screens.stand.tour import tour_line
from tui.screens.stand.view import View
from tui.session import rehearsal as stand
from tui.session.rehearsal import LAYOUTS, Rehearsal
from tui.widgets.cells import Rows, beside, in_ascii_rows, pad, row_text

NOW = stand.opened(charts.harbour_set(), charts.unfold)
PLAN = charts.plan_of(NOW.steps)


def stand_rows(view: View, width: int, height: int) -> Rows:
    """Return the parts one under the other, the bars beside those in the middle."""
    parts = stand_parts(view, width, height)
    drawn = {
        name: pad(part.draw(part.state, part.width, part.height), part.width, part.height)
        for name, part in parts.items()
    }
    middle = [row for name in drawn if name not in ("bar", "bars", "keys") for row in drawn[name]]
    if "bars" in drawn:
        middle = beside(middle, drawn["bars"])
    return drawn.get("bar", []) + middle + drawn.get("keys", [])


def view(step: int = 4, layout: str = "player", **more: object) -> View:
    now = replace(NOW, step=step, layout=layout)
    return replace(View(now, PLAN, keys="space next  ? help", status="no MIDI"), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 36), (60, 20), (40, 10)])
def test_the_stand_looks_as_it_did(width: int, height: int, same_picture: Callable[[Rows], None]) -> None:
    same_picture(stand_rows(view(), width, height))


@given(
    st.integers(1, 220),
    st.integers(1, 70),
    st.integers(0, len(NOW.steps)),
    st.sampled_from(LAYOUTS),
    st.booleans(),
    st.text(max_size=40),
)
@settings(max_examples=150, deadline=None)
def test_any_size_is_filled_exactly(
    width: int, height: int, step: int, layout: str, planned: bool, message: str
) -> None:
    seen = view(step, layout, plan=PLAN if planned else None, message=message, planning=not planned)
    rows = stand_rows(seen, width, height)
    assert len(rows) == height
    assert {len(row) for row in rows} == {width}


def test_the_same_step_is_not_drawn_twice() -> None:
    assert stand_parts(view(), 80, 24) == stand_parts(view(), 80, 24)


def test_a_step_leaves_bar_and_keys_as_they_are() -> None:
    before, after = stand_parts(view(4), 80, 24), stand_parts(view(5), 80, 24)
    assert {name for name in before if before[name] != after[name]} == {
        "chords", "moves", "keyboard", "roadmap", "place",
    }  # fmt: skip


def test_ascii_is_ascii() -> None:
    assert picture_text(in_ascii_rows(stand_rows(view(), 80, 24))).isascii()


def test_a_key_change_inside_the_song_is_told() -> None:
    steps = tuple(replace(step, key="F") for step in NOW.steps)
    place = replace(NOW.songs[0], steps=steps)
    moved = replace(NOW, set_list=replace(NOW.set_list, songs=(place,)))
    assert "F (song in E♭)" in row_text(stand_rows(View(moved), 80, 24)[0])


def test_a_warning_of_the_coming_chord_is_told() -> None:
    steps = tuple(replace(step, warnings=("rolled",)) for step in PLAN.steps)
    assert "! rolled" in picture_text(stand_rows(view(plan=replace(PLAN, steps=steps)), 80, 24))


def test_what_the_horns_read_is_told_below_where_it_has_no_room_beside_the_chords() -> None:
    horns = (("Bb", "Gm7", "C7"), ("Eb", "Dm7", "G7"))
    place = row_text(stand_rows(view(layout="leader", horns=horns), 80, 24)[-2])
    assert "B♭ reads Gm7 › C7  ·  E♭ reads Dm7 › G7" in place
    assert "reads" not in picture_text(stand_rows(view(layout="leader", horns=horns), 120, 36))


@pytest.mark.parametrize("width", [80, 60, 40])
def test_a_title_of_three_hundred_letters_leaves_key_and_tempo_to_be_read(width: int) -> None:
    songs = (replace(NOW.songs[0], song=replace(NOW.songs[0].song, title="Long " * 60)), *NOW.songs[1:])
    long = replace(view().now, set_list=replace(NOW.set_list, songs=songs))
    first = row_text(stand_rows(view(now=long), width, 24)[0])
    assert first.startswith(" 1/3  Long Lo")
    assert "E♭  ♩=" in first


def test_trouble_stands_beside_the_keys() -> None:
    last = row_text(stand_rows(view(trouble="NOT SAVED: the disk is full", keys="space next  ? help"), 80, 24)[-1])
    assert last.startswith(" ! NOT SAVED: the disk is full")
    assert last.rstrip().endswith("space next  ? help")


def test_in_a_small_window_trouble_goes_before_its_size() -> None:
    last = row_text(stand_rows(view(trouble="NOT SAVED: the disk is full", keys="? help"), 40, 10)[-1])
    assert last.startswith(" ! NOT SAVED: the disk is full")


def test_long_trouble_leaves_the_way_to_the_help() -> None:
    last = row_text(stand_rows(view(trouble="NOT SAVED: " + "far " * 40, keys="? help"), 80, 24)[-1])
    assert last.startswith(" ! NOT SAVED: far")
    assert last.rstrip().endswith("…  ? help")


def test_the_end_of_the_set_is_said() -> None:
    last = Rehearsal(NOW.set_list, song=2, step=len(NOW.songs[2].steps))
    assert "last song of the set" in picture_text(stand_rows(View(last), 80, 24))


def test_the_tour_fits_in_80_columns_and_ends() -> None:
    assert all(len(tour_line(told)) <= 78 for told in range(6))
    assert tour_line(6) == ""
