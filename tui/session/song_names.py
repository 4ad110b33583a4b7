"""Songs of a set told apart by their files, and places in them, found again when songs have been moved."""

from collections import Counter
from dataclasses import dataclass, field

from engine.song.model import SetSong

Name = tuple[str, int]
"""A song of a set: its file, and which of the entries of that file it is, from 0."""


def named(songs: tuple[SetSong, ...]) -> dict[Name, SetSong]:
    """Return the songs of a set by name, in their order."""
    seen: Counter[str] = Counter()
    found = {}
    for place in songs:
        found[place.file, seen[place.file]] = place
        seen[place.file] += 1
    return found


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in the set, by its song's name, so that it is found again when songs have been moved."""

    name: Name
    step: int
    loop: tuple[int, int] | None = field(default=None, compare=False)
