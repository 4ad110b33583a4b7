"""What is decided for tonight: keys, tempos, the order of the songs."""

from dataclasses import replace

import pytest

from tests.tui import charts
from tui.session import changes, decisions, navigation
from tui.session import rehearsal as stand
from tui.session.rehearsal import NotThere, Rehearsal


def test_another_key_keeps_the_place_and_can_be_undone(harbour: Rehearsal) -> None:
    bridge = navigation.to_section(harbour, "Bridge")
    changed = decisions.with_song(bridge, 0, replace(charts.HARBOUR, key="F"), charts.unfold, "key F")
    assert (changed.step, changed.here and changed.here.song.key) == (bridge.step, "F")
    undone = changes.undo(changed)
    assert undone.here
    assert undone.here.song.key == "Eb"


def test_another_tempo_leaves_the_steps_alone(harbour: Rehearsal) -> None:
    faster = decisions.retimed(harbour, 0, 100)
    assert faster.steps is harbour.steps
    assert faster.here
    assert faster.here.song.tempo == 100


@pytest.mark.parametrize("tempo", [0, 19.9, 401])
def test_a_tempo_nobody_plays_is_refused(harbour: Rehearsal, tempo: float) -> None:
    with pytest.raises(NotThere, match="between 20 and 400"):
        decisions.retimed(harbour, 0, tempo)


def test_a_song_that_moves_stays_open(harbour: Rehearsal) -> None:
    later = decisions.moved_song(stand.forward(harbour), 0, 1)
    assert [place.song.title for place in later.songs] == ["Two Lamps", "Harbour Steps", "Slow Ferry"]
    assert (later.song, later.step) == (1, 1)
    assert next(place.song.title for place in changes.undo(later).songs) == "Harbour Steps"


def test_a_song_becomes_the_first_and_no_earlier_than_that(harbour: Rehearsal) -> None:
    first = decisions.moved_song(harbour, 1, -1)
    assert [place.song.title for place in first.songs] == ["Two Lamps", "Harbour Steps", "Slow Ferry"]
    for end, direction in ((0, -1), (2, 1)):
        with pytest.raises(NotThere, match="at that end already"):
            decisions.moved_song(harbour, end, direction)


def test_a_song_before_the_open_one_is_dropped(harbour: Rehearsal) -> None:
    now = stand.forward(stand.open_song(harbour, 1))
    left = decisions.dropped_song(now, 0)
    assert left.here
    assert (left.here.song.title, left.step) == ("Two Lamps", 1)


def test_the_open_song_is_dropped_and_the_next_one_opens_at_its_top(harbour: Rehearsal) -> None:
    left = decisions.dropped_song(stand.forward(harbour), 0)
    assert left.here
    assert (left.here.song.title, left.step) == ("Two Lamps", 0)


def test_the_only_song_stays() -> None:
    with pytest.raises(NotThere, match="one song at least"):
        decisions.dropped_song(stand.opened(charts.harbour_set(charts.LAMPS), charts.unfold), 0)
