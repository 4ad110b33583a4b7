"""A choice among a chord's voicings, in words and as the pin that it becomes."""

from dataclasses import replace
from typing import Any

from engine.song.model import Pin
from tui.prompts import Prompt
from tui.rehearsal import Rehearsal


def chosen_words(prompt: Prompt, choices: tuple[Any, ...], now: Rehearsal) -> Prompt:
    """Return the question with the chosen voicing: its notes, and what it costs the song. Up and down choose."""
    if prompt.kind != "other" or not choices:
        return prompt
    place = -prompt.choice % len(choices)
    one = choices[place]
    left, right = " ".join(one.names[: len(one.left)]), " ".join(one.names[len(one.left) :])
    symbol = now.steps[int(prompt.subject)].symbol
    cost = "as planned" if one.price == 0 else f"costs {one.price:.1f}"
    words = f"{symbol} {place + 1}/{len(choices)}  L {left or '-'}  R {right or '-'}  {cost}"
    return replace(prompt, question=words)


def chosen_pin(prompt: Prompt, choices: tuple[Any, ...], now: Rehearsal) -> Pin:
    """Return the pin of the chosen voicing."""
    one = choices[-prompt.choice % len(choices)]
    step = now.steps[int(prompt.subject)]
    return Pin(step.section, step.bar, step.beat, one.left, one.right, one.left_fingers, one.right_fingers)
