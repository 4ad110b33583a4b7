"""The place that a note is written for, the bar or the whole song, and the note that stands there already."""

from dataclasses import replace

from tui.input.prompts import Prompt
from tui.session.bar_notes import bar_place, is_bar_note
from tui.session.rehearsal import Rehearsal


def note_place(prompt: Prompt, now: Rehearsal) -> str:
    """Return what a note is for: `Verse bar 3`, or `the song` after up or down."""
    step = now.now
    return "the song" if prompt.choice % 2 or step is None else bar_place(step)


def note_text(prompt: Prompt, now: Rehearsal) -> str:
    """Return the note that stands at the place a note is for, to be changed."""
    place = now.here
    lines = [line.strip() for line in (place.song.note if place else "").splitlines() if line.strip()]
    head = f"{note_place(prompt, now)}:"
    if head == "the song:":
        return " ".join(line for line in lines if not is_bar_note(line))
    return next((line.removeprefix(head).strip() for line in lines if line.startswith(head)), "")


def note_turned(prompt: Prompt, turned: Prompt, now: Rehearsal) -> Prompt:
    """Return a note taken to the other place: one that was not touched gives way to what stands there, words that were
    typed come after it."""
    here, there = note_text(prompt, now), note_text(turned, now)
    if prompt.typed == here:
        return replace(turned, typed=there, subject="")
    brought = prompt.subject if prompt.typed == _after(here, prompt.subject) else prompt.typed
    return replace(turned, typed=_after(there, brought), subject=brought)


def _after(note: str, words: str) -> str:
    """Return a note with words after it, each of which the stand shows on its own."""
    return f"{note}; {words}" if note and words else note or words
