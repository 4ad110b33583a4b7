"""What is offered below a line that is typed: how a chord symbol may go on, and the song files of a folder."""

import re

FILE_END = "   "
"""What stands between a file's name and its song's title in a list of files."""


def symbols(typed: str) -> tuple[str, ...]:
    """Return what the last symbol of a line of chords may become, the most common first; () while one letter stands
    there, which is a chord of its own."""
    from engine.chord.completing import completed_symbols

    last = re.split(r"[\s|]", typed)[-1]
    return completed_symbols(last) if len(last) > 1 else ()


def completed(typed: str) -> str | None:
    """Return a line of chords with its last symbol completed, None where there is nothing to complete."""
    words = symbols(typed)
    return re.sub(r"[^\s|]*\Z", lambda _: words[0], typed, count=1) if words else None


def files(options: tuple[str, ...], typed: str, choice: int) -> tuple[str, ...]:
    """Return the files of a list that have what is typed in their name or title, the one that is chosen first."""
    wanted = typed.strip().casefold()
    found = tuple(option for option in options if wanted in option.casefold())
    turn = -choice % len(found) if found else 0
    return found[turn:] + found[:turn]


def file_to_add(options: tuple[str, ...], typed: str, choice: int) -> str:
    """Return the file that Enter adds: what is typed where that is a file's name, else the one chosen from the list."""
    found = files(options, typed, choice)
    return found[0].split(FILE_END)[0] if found and not typed.strip().endswith(".toml") else typed
