"""A set file in pieces of its own text: what stands before its songs, each song, and what follows."""

import re
from dataclasses import dataclass
from itertools import pairwise

from engine.song.fields import read_table


@dataclass(slots=True)
class Pieces:
    """A set file in pieces: what stands before its songs, each song and the blank lines after it, and what follows.

    The pieces have plain line ends, `line_end` are the file's own; `mark` is the byte order mark that some editors
    put before everything.
    """

    head: str
    songs: list[str]
    gaps: list[str]
    tail: str
    line_end: str = "\n"
    mark: str = ""

    @property
    def listed(self) -> bool:
        """True where the songs are a list in brackets, and no pieces."""
        return not self.songs and re.search(r"^[ \t]*songs[ \t]*=", self.head, re.MULTILINE) is not None

    def text(self) -> str:
        """Return the file put together again."""
        songs = [ended(song) for song in self.songs[:-1]] + self.songs[-1:]
        text = self.head + "".join(song + gap for song, gap in zip(songs, self.gaps, strict=True)) + self.tail
        return self.mark + text.replace("\n", self.line_end)


def pieces(text: str) -> Pieces:
    """Take a set file apart.

    Comments straight above a [[songs]] line go with that song, its own tables ([[songs.pins]]) stay in its block, and
    remarks at the end of the file stay at the end.
    """
    line_end = "\r\n" if "\r\n" in text else "\n"
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    text = text.removeprefix(mark).replace("\r\n", "\n")
    lines = text.splitlines(keepends=True)
    starts = [number for number, line in enumerate(lines) if re.match(r"\s*\[\[\s*songs\s*\]\]", line)]
    if not starts:
        return Pieces(text, [], [], "", line_end, mark)
    others = (
        number
        for number, line in enumerate(lines)
        if number > starts[-1] and re.match(r"\s*\[", line) and not re.match(r"\s*\[\[?\s*songs\b", line)
    )
    ends = next((_with_comments(lines, number) for number in others if _is_header(text, number)), None)
    if ends is None:
        ends = _end_of_values(lines)
    cuts = [*(_with_comments(lines, start) for start in starts), ends]
    found = Pieces("".join(lines[: cuts[0]]), [], [], "".join(lines[ends:]), line_end, mark)
    for cut, after in pairwise(cuts):
        last = after
        while last > cut + 1 and not lines[last - 1].strip():
            last -= 1
        found.songs.append("".join(lines[cut:last]))
        found.gaps.append("".join(lines[last:after]))
    return found


def _with_comments(lines: list[str], start: int) -> int:
    while start and lines[start - 1].lstrip().startswith("#"):
        start -= 1
    return start


def _end_of_values(lines: list[str]) -> int:
    """Return the line after the last that says something: remarks at the end of a file stay there."""
    end = len(lines)
    while end and (not lines[end - 1].strip() or lines[end - 1].lstrip().startswith("#")):
        end -= 1
    return end


def _is_header(text: str, line: int) -> bool:
    """True when the line opens a table, not an array inside a value."""
    _, sheet = read_table(text, "")
    return any(sheet.places.line_column(offset)[0] == line + 1 for path, offset in sheet.places.keys.items() if path)


def ended(text: str) -> str:
    """Return a piece with the end of its last line."""
    return text if not text or text.endswith("\n") else text + "\n"
