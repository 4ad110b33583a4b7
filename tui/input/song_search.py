"""Which songs of the set a title or a number finds while it is typed, and what that question says."""

from tui.input.prompts import Prompt
from tui.session.rehearsal import NotThere, Rehearsal, find_song, open_song
from tui.session.song_numbers import index_of
from tui.widgets.lettering import pretty

MOST_SONGS = 8
"""Songs that are listed below a title that is being typed."""


def found_songs(prompt: Prompt, now: Rehearsal) -> tuple[int, ...]:
    """Return the songs a find prompt offers, the chosen one first; all of them while nothing is typed."""
    found = find_song(now, prompt.typed) if prompt.typed.strip() else tuple(range(len(now.songs)))
    turn = -prompt.choice % len(found) if found else 0
    return found[turn:] + found[:turn]


def found_opened(prompt: Prompt, now: Rehearsal) -> Rehearsal:
    """Return the rehearsal with the song open that is found first.

    Raises:
        NotThere: nothing is found.
    """
    found = found_songs(prompt, now)
    if not found:
        raise NotThere(_not_found(prompt, now))
    return open_song(now, found[0])


def song_lines(prompt: Prompt, now: Rehearsal) -> tuple[str, ...]:
    """Return the songs that are offered, a line each, the chosen one first."""
    found = found_songs(prompt, now)[:MOST_SONGS]
    songs = ((now.set_list.numbers[index], now.songs[index].song) for index in found)
    return tuple(f"{number:>3}  {song.title}  {pretty(song.key)}" for number, song in songs)


def search_words(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
    """Return what the question says, and what keys it takes."""
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
