"""What is asked in the top bar while the pedal stays alive: a key, a section, a tempo, a title, a note, yes or no.

A prompt is a frozen value; typing makes another one. Nothing here touches a screen: the stand shows `words` and calls
`answered` when the player goes forward.
"""

import re
from dataclasses import dataclass, replace
from typing import Final

from tui.input import offers, typed_bars
from tui.input.typed_values import distance_words, read_wanted_key, read_wanted_tempo, tapped_tempo
from tui.session import navigation
from tui.session import rehearsal as stand
from tui.session.bar_notes import is_bar_note
from tui.session.rehearsal import NotThere, Rehearsal
from tui.session.song_numbers import index_of
from tui.session.steps import section_letters, section_names, section_start
from tui.widgets.lettering import pretty

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

YES = "Enter or y = yes"
KEY_YES = "Enter = tonight  Tab = for good"

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


def wanted_key(prompt: Prompt, now: Rehearsal) -> str:
    """Return the key a key prompt stands at.

    Raises:
        NotThere: what is typed is no key.
    """
    key = now.songs[prompt.song].song.key
    return read_wanted_key(prompt.typed or f"{max(-11, min(prompt.choice, 11)):+d}", key)


def wanted_tempo(prompt: Prompt, now: Rehearsal) -> float:
    """Return the tempo a tempo prompt stands at.

    Raises:
        NotThere: what is typed is no tempo.
    """
    song = now.songs[prompt.song].song
    if prompt.taps:
        return tapped_tempo(prompt.taps, song.meter) or song.tempo
    return read_wanted_tempo(prompt.typed, song.tempo) if prompt.typed else song.tempo + prompt.choice


def found_songs(prompt: Prompt, now: Rehearsal) -> tuple[int, ...]:
    """Return the songs a find prompt offers, the chosen one first; all of them while nothing is typed."""
    found = stand.find_song(now, prompt.typed) if prompt.typed.strip() else tuple(range(len(now.songs)))
    turn = -prompt.choice % len(found) if found else 0
    return found[turn:] + found[:turn]


MOST_SYMBOLS = 5
"""Symbols that are offered in a row below a line of chords."""

MOST_CHOICES = 8
"""Songs that are listed below a title that is being typed."""


def choices(prompt: Prompt, now: Rehearsal) -> tuple[str, ...]:
    """Return the lines of the list below what is typed, the chosen one first: songs, files, how a symbol may go on."""
    if prompt.kind == "add":
        return offers.files(prompt.options, prompt.typed, prompt.choice)[:MOST_CHOICES]
    if prompt.kind in SYMBOLS:
        words = offers.symbols(prompt.typed)[:MOST_SYMBOLS]
        return (f"Tab = {words[0]}   {'  '.join(words[1:])}",) if words else ()
    if prompt.kind != "find":
        return ()
    found = found_songs(prompt, now)[:MOST_CHOICES]
    songs = ((now.set_list.numbers[index], now.songs[index].song) for index in found)
    return tuple(f"{number:>3}  {song.title}  {pretty(song.key)}" for number, song in songs)


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


def answered(prompt: Prompt, now: Rehearsal) -> Rehearsal:
    """Return what going forward in a jump or find prompt brings.

    Raises:
        NotThere: nothing of the kind.
    """
    if prompt.kind == "jump":
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
    found = found_songs(prompt, now)
    if not found:
        raise NotThere(_not_found(prompt, now))
    return stand.open_song(now, found[0])


def words(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
    """Return (what the prompt says, what keys it takes)."""
    if prompt.kind == "confirm":
        return prompt.question, YES
    if prompt.kind == "jump":
        return _jump_words(prompt, now)
    if prompt.kind == "key":
        return _key_words(prompt, now)
    if prompt.kind == "tempo":
        return _tempo_words(prompt, now)
    if prompt.kind == "find":
        return _find_words(prompt, now)
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


def bar_reading(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
    """Return (how the typed bar is read, what is wrong with it); one of them is empty."""
    song = now.songs[prompt.song].song
    if prompt.kind == "bar" and "|" in prompt.typed:
        return "", "one bar at a time, without bar lines"
    if prompt.kind == "bars" and not prompt.typed.strip():
        return "chords, and | between bars", ""
    return typed_bars.reading(prompt.typed, song, prompt.subject or str(song.meter))


def note_place(prompt: Prompt, now: Rehearsal) -> str:
    """Return what a note is for: `Verse bar 3`, or `the song` after up or down."""
    step = now.now
    return "the song" if prompt.choice % 2 or step is None else f"{step.section} bar {step.bar}"


def note_text(prompt: Prompt, now: Rehearsal) -> str:
    """Return the note that stands at the place a note is for, to be changed."""
    place = now.here
    lines = [line.strip() for line in (place.song.note if place else "").splitlines() if line.strip()]
    head = f"{note_place(prompt, now)}:"
    if head == "the song:":
        return " ".join(line for line in lines if not is_bar_note(line))
    return next((line.removeprefix(head).strip() for line in lines if line.startswith(head)), "")


def _jump_words(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
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


def _find_words(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
    found = found_songs(prompt, now)
    if not found:
        return f"song: {_not_found(prompt, now)}", "Esc = leave"
    first, *others = [now.songs[index].song.title for index in found[:4]]
    rest = f"   then {', '.join(others)}" if others else ""
    return f"song: {now.set_list.numbers[found[0]]} {first}{rest}", "Enter = open  ↑↓"


def _not_found(prompt: Prompt, now: Rehearsal) -> str:
    """Say why nothing is found: no title has what was typed, or the song of that number does not open."""
    typed = prompt.typed.strip()
    if not typed.isdigit():
        return f"no title has {typed!r}"
    try:
        index_of(now.set_list, int(typed))
    except NotThere as fault:
        return str(fault)
    return ""
