"""Whether a note is for the bar or for the song, and what becomes of its words on the way."""

import pytest

from tests.tui import charts
from tui.input import prompts
from tui.input.prompts import Prompt
from tui.input.typed_notes import note_place, note_turned
from tui.session import rehearsal as stand
from tui.session.rehearsal import Rehearsal


@pytest.fixture
def now() -> Rehearsal:
    return stand.opened(charts.harbour_set(), charts.unfold)


def test_up_turns_a_note_for_the_bar_into_one_for_the_song(now: Rehearsal) -> None:
    assert note_place(Prompt("note"), now) == "Intro bar 1"
    assert note_place(prompts.turned(Prompt("note"), 1), now) == "the song"


def test_words_for_the_bar_come_back_as_they_were_from_a_look_at_the_songs_note(now: Rehearsal) -> None:
    written = Prompt("note", typed="watch the singer")
    over = note_turned(written, prompts.turned(written, 1), now)
    assert note_turned(over, prompts.turned(over, -1), now).typed == "watch the singer"
