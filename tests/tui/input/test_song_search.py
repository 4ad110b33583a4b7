"""Songs found by what is typed of a title."""

import pytest

from tests.tui import charts
from tui.input import prompts
from tui.input.prompts import Prompt
from tui.input.song_search import found_opened, found_songs
from tui.session import rehearsal as stand
from tui.session.rehearsal import NotThere, Rehearsal


@pytest.fixture
def now() -> Rehearsal:
    return stand.opened(charts.harbour_set(), charts.unfold)


def test_titles_are_found_as_they_are_typed(now: Rehearsal) -> None:
    assert found_songs(Prompt("find", typed="fer"), now) == (2,)
    assert found_songs(Prompt("find"), now) == (0, 1, 2)


def test_down_turns_to_the_next_title(now: Rehearsal) -> None:
    assert found_songs(prompts.turned(Prompt("find"), -1), now) == (1, 2, 0)


def test_a_title_that_is_not_there_opens_nothing(now: Rehearsal) -> None:
    with pytest.raises(NotThere, match="zzz"):
        found_opened(Prompt("find", typed="zzz"), now)
