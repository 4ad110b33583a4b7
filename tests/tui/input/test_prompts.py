"""Questions in the top bar while they are typed."""

import pytest

from tui.input import prompts
from tui.input.prompts import Prompt


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


def test_taps_far_apart_begin_anew() -> None:
    prompt = prompts.tapped(prompts.tapped(Prompt("tempo"), 1.0), 9.0)
    assert prompt.taps == (9.0,)
