"""A question in the top bar, which stays while the pedal is alive: a frozen value; typing makes another one.

What it says stands in `prompt_words`, what is typed of a jump, a title, a key, a bar or a note in modules of their own.
"""

from dataclasses import dataclass, replace
from typing import Final

PATIENCE: Final[dict[str, float]] = {
    "confirm": 3.0, "jump": 6.0, "jumped": 2.0, "key": 8.0, "tempo": 8.0, "find": 20.0, "add": 60.0,
    "note": 60.0, "other": 30.0, "bar": 180.0, "whose": 30.0, "copy": 60.0, "reach": 60.0, "bars": 180.0,
    "form": 180.0,
}  # fmt: skip
"""Kind -> seconds without a key after which it goes away: a hand on the keyboard is not to come back to it. A jump that
has gone somewhere waits for the rest of a name only."""

TEXT = frozenset({"find", "add", "note", "bar", "bars", "copy", "reach", "form"})
"""Kinds that are written in a line of their own, below the question."""

SYMBOLS = ("bar", "bars")
"""Kinds in which chord symbols are typed."""

REPLACED = frozenset({"key", "meter", "tempo", "feel", "count", "rename"})
"""Short values of a song's form, and a section's name: what is typed takes their place, an arrow keeps them."""

LONGEST = 300
"""Characters that such a line takes (own choice: a note of four rows)."""

LONGEST_NAME = 24
"""Characters that the name of a section takes in a jump (own choice)."""

ACCEPTED: Final[dict[str, str]] = {
    "key": "abcdefgABCDEFG#b♯♭m0123456789+-",
    "tempo": "0123456789+-.,",
}


@dataclass(frozen=True, slots=True)
class Prompt:
    """An open question. `choice` is what up and down have chosen, `subject` the deed a yes would confirm; of a jump the
    section that it has gone to.

    `song` is the index of the song it is about. `fault` is what is wrong with what is typed, as its screen has found.
    """

    kind: str
    song: int = 0
    typed: str = ""
    choice: int = 0
    taps: tuple[float, ...] = ()
    subject: str = ""
    question: str = ""
    options: tuple[str, ...] = ()
    fault: str = ""
    taken: str = ""
    """The keys that answer it, where they are not the usual ones."""

    @property
    def chosen(self) -> str:
        """The option that up and down have chosen, the first one to begin with."""
        return self.options[-self.choice % len(self.options)]


def typed(prompt: Prompt, char: str) -> Prompt:
    """Return the prompt with a character more, if it takes such."""
    if prompt.kind == "jump":
        fits = (char.isalnum() or char == "-") and len(prompt.typed) < LONGEST_NAME
    else:
        fits = char in ACCEPTED.get(prompt.kind, "") and len(prompt.typed) < 6
    return replace(prompt, typed=prompt.typed + char, choice=0, taps=()) if fits else prompt


def rubbed(prompt: Prompt) -> Prompt:
    """Return the prompt with the last character gone."""
    return replace(prompt, typed=prompt.typed[:-1], choice=0, taps=())


def turned(prompt: Prompt, direction: int) -> Prompt:
    """Return the prompt after up (1) or down (-1): half a step, a beat a minute, another choice of a list."""
    return replace(
        prompt, choice=prompt.choice + direction, typed="" if prompt.kind in ("key", "tempo") else prompt.typed
    )


def tapped(prompt: Prompt, seconds: float) -> Prompt:
    """Return a tempo prompt with another tap; a gap over three seconds begins anew."""
    taps = prompt.taps if prompt.taps and seconds - prompt.taps[-1] < 3.0 else ()
    return replace(prompt, typed="", choice=0, taps=(*taps, seconds)[-16:])
