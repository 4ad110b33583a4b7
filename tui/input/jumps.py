"""Where a jump goes as it is typed (a section, a bar of it, bars before it, bars back), and what its question says."""

import re
from dataclasses import dataclass, replace

from tui.input.prompts import Prompt
from tui.session import navigation
from tui.session.rehearsal import NotThere, Rehearsal
from tui.session.steps import section_letters, section_names, section_start


@dataclass(frozen=True, slots=True)
class Goal:
    """Where a jump is typed to: so many bars early, the section by what is typed of its name, a bar of it (0: none)."""

    early: int
    name: str
    bar: int


def goal(prompt: Prompt) -> Goal:
    """Return what is typed of a jump: `2c` two bars before C, `ver` the Verse, `b12` the bridge's twelfth bar."""
    found = re.fullmatch(r"-?(\d*)-?([^\d-]*)-?(\d*).*", prompt.typed)
    early, name, bar = found.groups() if found else ("", prompt.typed, "")
    return Goal(int(early or 0), name, int(bar or 0))


def section_typed(prompt: Prompt, now: Rehearsal) -> str:
    """Return the section whose letter is typed, or the first letters of its name; "" for none."""
    typed = goal(prompt).name.casefold()
    if not typed:
        return ""
    begins = [name for name in section_names(now.steps) if _plain_name(name).startswith(typed)]
    return section_letters(now.steps).get(typed) or next(iter(begins), "")


def _plain_name(name: str) -> str:
    return "".join(char for char in name.casefold() if char.isalnum())


def went(prompt: Prompt, now: Rehearsal) -> tuple[Prompt, Rehearsal]:
    """Return a jump after a key, gone to the section that is typed: at its first letter already, and once."""
    name = section_typed(prompt, now)
    if not name or name == prompt.subject:
        return prompt, now
    return replace(prompt, subject=name), navigation.to_section(now, name, goal(prompt).early)


def landed(prompt: Prompt, now: Rehearsal) -> Rehearsal:
    """Return where going forward in a jump leads.

    Raises:
        NotThere: no section of that name, or no such bar.
    """
    wanted = goal(prompt)
    if wanted.name and not section_typed(prompt, now):
        raise NotThere(_no_section(prompt))
    if wanted.name:
        return navigation.to_bar(now, wanted.bar) if wanted.bar else now
    if prompt.typed.startswith("-"):
        return navigation.back_bars(now, wanted.early)
    if prompt.typed:
        return navigation.to_bar(now, wanted.early)
    anchor = min(now.step, max(len(now.steps) - 1, 0))
    return navigation.to_step(now, section_start(now.steps, anchor) if now.steps else 0)


def jump_words(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
    """Return what the question of a jump says, and what keys it takes."""
    letters = section_letters(now.steps)
    names = sorted(letters.items(), key=lambda pair: section_names(now.steps).index(pair[1]))
    listed = "  ".join(f"{letter} {name}" for letter, name in names)
    wanted = goal(prompt)
    count = wanted.early
    if wanted.name:
        return _section_words(prompt, now)
    if prompt.typed.startswith("-"):
        bars = "bar" if count == 1 else "bars"
        return f"{count} {bars} back, or before: {listed}", "Enter = back"
    if prompt.typed:
        return f"bar {prompt.typed}, or {prompt.typed} before: {listed}", f"Enter = bar {prompt.typed}"
    return f"go to: {listed}", "12 = bar  -2 = back  Enter = again"


def _section_words(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
    """Say which section a name being typed has gone to, and what more can be typed."""
    wanted, name = goal(prompt), section_typed(prompt, now)
    if not name:
        return _no_section(prompt), "Bksp  Esc = stay here"
    early = f"{wanted.early} before " if wanted.early else ""
    if wanted.bar:
        return f"{prompt.typed}: {early}{name}, bar {wanted.bar}", f"Enter = bar {wanted.bar}"
    return f"{prompt.typed}: {early}{name}", "more letters, or a bar  Enter, space or pedal = on"


def _no_section(prompt: Prompt) -> str:
    typed = goal(prompt).name
    return f"no section has the letter {typed}" if len(typed) == 1 else f"no section begins with {typed}"
