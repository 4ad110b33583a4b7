"""A drill's song file, written to be read and changed by hand."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.song.writing import pitch, quoted
from engine.voicing.stacking import Keys

TEMPO = 60
"""Beats a minute that a drill begins with (own choice): slow enough to be clean at once."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line of bars, a chord each or `%`. `pins` are (bar from 0, left keys, right keys), None left to the plan."""

    chords: tuple[str, ...]
    pins: tuple[tuple[int, Keys | None, Keys | None], ...] = ()

    def pinned(self, bar: int, left: Keys | None = None, right: Keys | None = None) -> "Line":
        """Return the line with a chord's voicing given."""
        return replace(self, pins=(*self.pins, (bar, left, right)))


@dataclass(frozen=True, slots=True)
class Part:
    """A section of a drill; `titles` are said in its cue, `key` where it stands in another key."""

    name: str
    lines: tuple[Line, ...]
    titles: tuple[str, ...] = ()
    key: str = ""


def sheet(title: str, key: str, parts: Sequence[Part], *, method: str, note: str, about: str) -> str:
    """Return the song file of a drill."""
    lines = [
        f"# {about}",
        "# Begin slowly; three clean rounds, then a notch of three or four beats a minute more.",
        f"title  = {quoted(title)}",
        f"key    = {quoted(key)}",
        'meter  = "4/4"',
        f"tempo  = {TEMPO}",
        f"note   = {quoted(note)}",
        "",
        "[voicing]",
        f"method = {quoted(method)}",
    ]
    for part in parts:
        lines += ["", f"[sections.{quoted(part.name)}]"]
        lines += [f"cue  = {quoted('; '.join(part.titles))}"] if part.titles else []
        lines += [f"key  = {quoted(part.key)}"] if part.key and part.key != key else []
        lines += ['bars = """', *(row for line in part.lines for row in _rows(line.chords)), '"""']
    for part in parts:
        lines += _pins(part, key)
    return "\n".join(lines) + "\n"


def _rows(chords: Sequence[str]) -> list[str]:
    return [f"| {' | '.join(chords[start : start + 4])} |" for start in range(0, len(chords), 4)]


def _pins(part: Part, key: str) -> list[str]:
    lines, before = [], 0
    for line in part.lines:
        for bar, left, right in line.pins:
            lines += ["", "[[pins]]", f"section = {quoted(part.name)}", f"bar = {before + bar + 1}", "beat = 1"]
            for hand, keys in (("left", left), ("right", right)):
                lines += [f"{hand} = {quoted(' '.join(pitch(one, key) for one in keys))}"] if keys is not None else []
        before += len(line.chords)
    return lines
