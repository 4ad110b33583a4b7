"""What a question in the top bar says, which keys answer it, what is listed below it, and how both fit the window."""

from tui.input import offers
from tui.input.jumps import jump_words
from tui.input.prompts import SYMBOLS, Prompt
from tui.input.song_search import search_words, song_lines
from tui.input.typed_bars import bar_reading
from tui.input.typed_notes import note_place
from tui.input.typed_values import distance_words, wanted_key, wanted_tempo
from tui.session.rehearsal import NotThere, Rehearsal
from tui.widgets.lettering import pretty

YES = "Enter or y = yes"
KEY_YES = "Enter = tonight  Tab = for good"

MOST_SYMBOLS = 5
"""Symbols that are offered in a row below a line of chords."""

MOST_FILES = 8
"""Song files that are listed below a name that is being typed."""


def words(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
    """Return (what the prompt says, what keys it takes)."""
    if prompt.kind == "confirm":
        return prompt.question, YES
    if prompt.kind == "jump":
        return jump_words(prompt, now)
    if prompt.kind == "key":
        return _key_words(prompt, now)
    if prompt.kind == "tempo":
        return _tempo_words(prompt, now)
    if prompt.kind == "find":
        return search_words(prompt, now)
    if prompt.kind == "note":
        return f"note for {note_place(prompt, now)}:", "Enter = write  ↑ bar or song  Esc = leave"
    if prompt.kind in SYMBOLS:
        reading, fault = bar_reading(prompt, now)
        before = "" if prompt.kind == "bar" else f" {'before' if prompt.choice % 2 else 'after'} it (↑)"
        return f"{prompt.question}{before}:", fault or f"{reading}  Enter = write"
    if prompt.kind == "form":
        return f"{prompt.question}:", prompt.fault or prompt.taken or "Enter = write  Esc = leave"
    if prompt.kind == "add":
        keys = "Enter = add  ↑↓  Esc" if prompt.options else "Enter = add  Esc = leave"
        return f"{prompt.question or 'song file to add'}:", keys
    if prompt.kind == "copy":
        return f"{prompt.question or 'NOT SAVED'}. Copy to:", "Enter = copy, quit  Tab = only quit  Esc = stay"
    if prompt.kind == "reach":
        return f"{prompt.question}:", "Enter = take  Esc = leave"
    if prompt.kind == "whose":
        others = " or ".join(option for option in prompt.options if option != prompt.chosen)
        return f"{prompt.question} {prompt.chosen}  (or {others})", "↑↓ choose  Enter = so  Esc = later"
    return prompt.question, "↑↓ choose  Enter = pin  Esc = leave"


def choices(prompt: Prompt, now: Rehearsal) -> tuple[str, ...]:
    """Return the lines of the list below what is typed, the chosen one first: songs, files, how a symbol may go on."""
    if prompt.kind == "add":
        return offers.files(prompt.options, prompt.typed, prompt.choice)[:MOST_FILES]
    if prompt.kind in SYMBOLS:
        words = offers.symbols(prompt.typed)[:MOST_SYMBOLS]
        return (f"Tab = {words[0]}   {'  '.join(words[1:])}",) if words else ()
    return song_lines(prompt, now) if prompt.kind == "find" else ()


def fitted(question: str, keys: str, width: int, kind: str = "") -> tuple[str, str]:
    """Return a question and its keys as `width` columns hold them: what answers it is never lost.

    Of the keys Enter and Tab stay; then the question gives way at its end. The letters of a jump are what answers it:
    there the keys go, then the ends of the names.
    """
    room = width - 5
    if kind == "jump" and len(question) + len(keys) > room:
        return _names_fitted(question, width - 2), ""
    if len(question) + len(keys) <= room or "Enter" not in keys:
        return question, keys
    keys = "  ".join(part.replace(" = ", " ") for part in keys.split("  ") if part.startswith(("Enter", "Tab")))
    room -= len(keys)
    if len(question) > room and question.startswith("key "):
        question = question.removeprefix("key ").split(",")[0]
    if len(question) > room:
        question = question[: room - 1] + "…"
    return question, keys


def _names_fitted(question: str, room: int) -> str:
    """Return a question with every section's name cut as short as the room needs; its letter stays."""
    for most in range(40, 0, -1):
        parts = [part[: 2 + most] for part in question.split("  ")]
        if len(fit := "  ".join([question.split("  ")[0], *parts[1:]])) <= room:
            return fit
    return question


def _key_words(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
    old = now.songs[prompt.song].song.key
    if not prompt.typed and not prompt.choice:
        return f"key {pretty(old)} → _", "Eb, F#, +2, -1 or ↑↓"
    try:
        new = wanted_key(prompt, now)
    except NotThere as fault:
        return f"key {pretty(old)} → {prompt.typed}?", str(fault)
    shown = f" ({prompt.typed})" if prompt.typed else ""
    return f"key {pretty(old)} → {pretty(new)}, {distance_words(old, new)}{shown}", KEY_YES


def _tempo_words(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
    old = now.songs[prompt.song].song.tempo
    if len(prompt.taps) == 1:
        return f"tempo {old:g} → tap, and go on", "t on every beat"
    if not prompt.typed and not prompt.choice and not prompt.taps:
        return f"tempo {old:g} → _", "92, +4, -4, ↑↓, or tap t"
    try:
        new = wanted_tempo(prompt, now)
    except NotThere as fault:
        return f"tempo {old:g} → {prompt.typed}?", str(fault)
    return f"tempo {old:g} → {new:g}", YES
