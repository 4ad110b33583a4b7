"""Songs keep the numbers that the set's file gives them, those that do not open too."""

from pathlib import Path

import pytest

from tests.tui.evening import unfolded
from tests.tui.sets_in_files import SONG
from tui.input.prompts import Prompt
from tui.input.song_search import found_opened, search_words
from tui.persistence import store
from tui.playback.leading import led
from tui.session import changes, decisions
from tui.session import rehearsal as stand
from tui.session.rehearsal import NotThere, Rehearsal
from tui.session.song_numbers import gaps, in_order, index_of


@pytest.fixture
def now(tmp_path: Path) -> Rehearsal:
    """Four songs, the second of which does not open."""
    text = 'title = "Pier"\n'
    for name in ("a", "gone", "b", "c"):
        text += f'[[songs]]\nfile = "{name}.toml"\n'
        if name != "gone":
            (tmp_path / f"{name}.toml").write_text(SONG.replace("Pier", name))
    (tmp_path / "set.toml").write_text(text)
    return stand.opened(store.open_set(tmp_path / "set.toml"), unfolded)


def numbered(now: Rehearsal) -> str:
    songs = now.set_list.songs
    return " ".join(f"{n}{'-' if i is None else songs[i].song.title}" for n, i in in_order(now.set_list))


def test_a_song_that_does_not_open_keeps_its_number(now: Rehearsal) -> None:
    assert numbered(now) == "1a 2- 3b 4c"
    assert (now.set_list.total, gaps(now.set_list), now.set_list.numbers[1]) == (4, (2,), 3)


def test_choosing_it_says_in_one_line_what_is_wrong(now: Rehearsal) -> None:
    with pytest.raises(NotThere) as refused:
        index_of(now.set_list, 2)
    assert str(refused.value).startswith("song 2 does not open: gone.toml: there is no such file")
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("number", [0, 5, 99])
def test_a_number_beyond_the_set_is_refused(now: Rehearsal, number: int) -> None:
    with pytest.raises(NotThere, match="Pier has 4"):
        index_of(now.set_list, number)


def test_a_song_that_moves_changes_places_with_its_neighbours_and_never_with_the_gap(now: Rehearsal) -> None:
    assert numbered(decisions.moved_song(now, 0, 1)) == "1b 2- 3a 4c"
    assert numbered(changes.undo(decisions.moved_song(now, 0, 1))) == "1a 2- 3b 4c"


def test_a_drop_before_the_gap_moves_it_up(now: Rehearsal) -> None:
    assert numbered(decisions.dropped_song(now, 0)) == "1- 2b 3c"
    assert numbered(decisions.dropped_song(now, 1)) == "1a 2- 3c"


def test_a_number_typed_on_the_stand_is_the_sets_own(now: Rehearsal) -> None:
    assert stand.find_song(now, "3") == (1,)
    assert search_words(Prompt("find", typed="3"), now)[0].endswith("3 b")
    assert "song 2 does not open: gone.toml" in search_words(Prompt("find", typed="2"), now)[0]
    with pytest.raises(NotThere, match="song 2 does not open"):
        found_opened(Prompt("find", typed="2"), now)


def test_the_leader_sends_the_sets_own_number(now: Rehearsal) -> None:
    assert led(stand.open_song(now, 1))[0] == 2
