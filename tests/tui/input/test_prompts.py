"""Questions in the top bar: what is typed, what is said, what is answered."""

from dataclasses import replace

import pytest

from tests.tui import charts
from tui.input import prompts
from tui.input.prompts import Prompt
from tui.session import rehearsal as stand
from tui.session.rehearsal import NotThere, Rehearsal
from tui.widgets.cells import row_text
from tui.widgets.lines import Ends, ends_rows


@pytest.fixture
def now() -> Rehearsal:
    return stand.opened(charts.harbour_set(), charts.unfold)


def typed(prompt: Prompt, text: str) -> Prompt:
    for char in text:
        prompt = prompts.typed(prompt, char)
    return prompt


@pytest.mark.parametrize(
    ("kind", "text", "kept"),
    [
        ("key", "Ebx!", "Eb"), ("tempo", "9x2", "92"), ("jump", "1 v!2", "1v2"),
    ],
)  # fmt: skip
def test_a_question_takes_only_what_can_answer_it(kind: str, text: str, kept: str) -> None:
    assert typed(Prompt(kind), text).typed == kept


def test_backspace_takes_the_last_letter() -> None:
    assert prompts.rubbed(Prompt("key", typed="Eb")).typed == "E"


def test_up_and_down_are_half_steps(now: Rehearsal) -> None:
    prompt = prompts.turned(prompts.turned(Prompt("key"), -1), -1)
    assert prompts.wanted_key(prompt, now) == "Db"


def test_typing_forgets_the_half_steps(now: Rehearsal) -> None:
    prompt = prompts.typed(prompts.turned(Prompt("key"), 1), "g")
    assert prompts.wanted_key(prompt, now) == "G"


def test_a_song_that_is_not_open_has_its_own_key(now: Rehearsal) -> None:
    assert prompts.wanted_key(Prompt("key", song=1, typed="+2"), now) == "Bm"


def test_taps_far_apart_begin_anew() -> None:
    prompt = prompts.tapped(prompts.tapped(Prompt("tempo"), 1.0), 9.0)
    assert prompt.taps == (9.0,)


def test_titles_are_found_as_they_are_typed(now: Rehearsal) -> None:
    assert prompts.found_songs(Prompt("find", typed="fer"), now) == (2,)
    assert prompts.found_songs(Prompt("find"), now) == (0, 1, 2)


def test_down_turns_to_the_next_title(now: Rehearsal) -> None:
    assert prompts.found_songs(prompts.turned(Prompt("find"), -1), now) == (1, 2, 0)


def test_a_title_that_is_not_there_opens_nothing(now: Rehearsal) -> None:
    with pytest.raises(NotThere, match="zzz"):
        prompts.answered(Prompt("find", typed="zzz"), now)


def test_the_section_again_at_the_end_is_the_last_one(now: Rehearsal) -> None:
    end = replace(now, step=len(now.steps))
    again = prompts.answered(Prompt("jump"), end)
    assert again.now is not None
    assert again.now.section == "Tag"


def test_up_turns_a_note_for_the_bar_into_one_for_the_song(now: Rehearsal) -> None:
    assert prompts.note_place(Prompt("note"), now) == "Intro bar 1"
    assert prompts.note_place(prompts.turned(Prompt("note"), 1), now) == "the song"


@pytest.mark.parametrize(
    ("bar", "reading"),
    [
        ("Dm7", "Dm7 4 beats"),
        ("Dm7 Gb7", "Dm7 2 beats  G♭7 2 beats"),
        ("C / / G7", "C 3 beats  G7 1 beat"),
        ("N.C.", "N.C. 4 beats"),
    ],
)
def test_a_bar_is_read_as_it_is_typed(now: Rehearsal, bar: str, reading: str) -> None:
    assert prompts.bar_reading(Prompt("bar", typed=bar), now) == (reading, "")


@pytest.mark.parametrize("bar", ["Qm7", "Dm7 | G7", ""])
def test_a_bar_that_cannot_be_read_says_why(now: Rehearsal, bar: str) -> None:
    reading, fault = prompts.bar_reading(Prompt("bar", typed=bar), now)
    assert reading == ""
    assert fault


@pytest.mark.parametrize("kind", ["jump", "key", "tempo", "find", "note", "add", "bar", "confirm", "other"])
def test_every_question_has_words_and_patience(now: Rehearsal, kind: str) -> None:
    question, keys = prompts.words(Prompt(kind, question="sure?"), now)
    assert question
    assert keys
    assert prompts.PATIENCE[kind] > 0


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
    asked = prompts.words(prompt, now)
    shown = row_text(ends_rows(Ends(*prompts.fitted(*asked, width), "here"), width, 1)[0])
    assert len(shown) == width
    assert all(word in shown for word in essential)


def test_the_new_key_is_shown_in_the_narrowest_window(now: Rehearsal) -> None:
    question, _ = prompts.fitted(*prompts.words(Prompt("key", typed="+3"), now), 40)
    assert question == "E♭ → G♭"
