"""Song numbers as the set's file counts them: a song that does not open keeps its number, and has no other.

A set that was not read from a file (a song on its own) counts the songs it has.
"""

from collections.abc import Sequence
from dataclasses import replace

from engine.song.model import SetList, SetSong
from tui.session.rehearsal import NotThere


def gaps(set_list: SetList) -> tuple[int, ...]:
    """Return the numbers of the songs that do not open, in the order of `missing`."""
    return tuple(number for number in range(1, set_list.total + 1) if number not in set_list.numbers)


def index_of(set_list: SetList, number: int) -> int:
    """Return which of the songs that open has a number.

    Raises:
        NotThere: none has it; a song that does not open is named, and why.
    """
    if number in set_list.numbers:
        return set_list.numbers.index(number)
    for gap, (name, why) in zip(gaps(set_list), set_list.missing, strict=False):
        if gap == number:
            raise NotThere(f"song {number} does not open: {missing_words(name, why)}")
    raise NotThere(f"there is no song {number}: {set_list.title} has {set_list.total or 'none'}")


def passed_over(set_list: SetList, before: int, after: int) -> str:
    """Return in words which songs that do not open lie between two that do (indices), "" where none does."""
    ends = sorted((set_list.numbers[before], set_list.numbers[after]))
    return does_not_open([gap for gap in gaps(set_list) if ends[0] < gap < ends[1]], "passed over: ")


def does_not_open(numbers: Sequence[int], begins: str = "") -> str:
    """Return in words that these songs do not open and where they are mended, "" where there are none."""
    if not numbers:
        return ""
    words = f"song {numbers[0]} does" if len(numbers) == 1 else f"songs {', '.join(map(str, numbers))} do"
    return f"{begins}{words} not open; s shows why"


def in_order(set_list: SetList) -> tuple[tuple[int, int | None], ...]:
    """Return (number, index) of all songs in their order; the index of one that does not open is None."""
    opened = [(number, index) for index, number in enumerate(set_list.numbers)]
    return tuple(sorted([*opened, *((number, None) for number in gaps(set_list))], key=lambda pair: pair[0]))


def renumbered(songs: tuple[SetSong, ...], before: SetList, dropped: int = 0) -> tuple[SetSong, ...]:
    """Return songs in a new order with the numbers that the file will give them: songs that do not open stay where
    they are, after a drop (the number of the dropped song) one further up."""
    if not all(place.number for place in before.songs):
        return songs
    held = {gap - 1 if 0 < dropped < gap else gap for gap in gaps(before)}
    free = (number for number in range(1, len(songs) + len(held) + 1) if number not in held)
    return tuple(replace(place, number=number) for place, number in zip(songs, free, strict=False))


def missing_words(name: str, why: str) -> str:
    """Return in one line which song of a set does not open and why; a reason may begin with the file and a line."""
    return missing_text(name, (why.splitlines() or [""])[0] or "cannot be opened")


def missing_text(name: str, why: str) -> str:
    """Return all that is wrong with a song of a set that does not open."""
    return why if why.startswith(name) else f"{name}: {why}"
