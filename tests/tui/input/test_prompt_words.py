"""What a question in the top bar says, and which keys it shows."""

import pytest

from tests.tui import charts
from tui.input.prompt_words import fitted, words
from tui.input.prompts import PATIENCE, Prompt
from tui.session import rehearsal as stand
from tui.session.rehearsal import Rehearsal
from tui.widgets.cells import row_text
from tui.widgets.lines import Ends, ends_rows


@pytest.fixture
def now() -> Rehearsal:
    return stand.opened(charts.harbour_set(), charts.unfold)


@pytest.mark.parametrize("kind", ["jump", "key", "tempo", "find", "note", "add", "bar", "confirm", "other"])
def test_every_question_has_words_and_patience(now: Rehearsal, kind: str) -> None:
    question, keys = words(Prompt(kind, question="sure?"), now)
    assert question
    assert keys
    assert PATIENCE[kind] > 0


@pytest.mark.parametrize("width", [40, 60, 80])
@pytest.mark.parametrize(
    ("prompt", "essential"),
    [
        (Prompt("key", typed="+3"), ("Enter", "tonight", "Tab", "for good")),
        (Prompt("tempo", typed="+4"), ("Enter", "yes")),
        (Prompt("confirm", question="drop The Harbour Master's Long Way Home from the set?"), ("Enter", "yes")),
        (Prompt("find"), ("Enter", "open")),
        (Prompt("note", typed="watch the singer in the last bar of it"), ("Enter", "write")),
        (Prompt("add", typed="songs/a-long-name-of-a-song.toml"), ("Enter", "add")),
        (Prompt("whose", question="key of Low Tide Lantern:", options=("ours", "the file's")), ("Enter", "so")),
        (Prompt("other", question="E♭maj7 1/9  L E♭2 B♭2  R G3 D4  costs 2.3 more"), ("Enter", "pin")),
    ],
)
def test_the_keys_that_answer_are_shown_in_every_width(
    now: Rehearsal, width: int, prompt: Prompt, essential: tuple[str, ...]
) -> None:
    asked = words(prompt, now)
    shown = row_text(ends_rows(Ends(*fitted(*asked, width), "here"), width, 1)[0])
    assert len(shown) == width
    assert all(word in shown for word in essential)


def test_the_new_key_is_shown_in_the_narrowest_window(now: Rehearsal) -> None:
    question, _ = fitted(*words(Prompt("key", typed="+3"), now), 40)
    assert question == "E♭ → G♭"
