"""Single changes to song and set files that leave everything else as it was: comments, order, spacing.

Values change through tomlkit, songs of a set and bars of a song as pieces of the file's own text.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from engine.errors import ChartError, Fault
from engine.song.fields import read_table
from engine.song.model import Pin
from engine.song.signs import Sign, signs
from engine.song.writing import pin_values, quoted

if TYPE_CHECKING:
    from tomlkit import TOMLDocument


def set_tonight(
    text: str, song_number: int, key: str | None = None, tempo: float | None = None, note: str | None = None
) -> str:
    """Return the set file with tonight's key, tempo or note of one song (from 1) changed; "" or 0 takes it out."""

    def change(song: Any) -> None:
        for name, value in (("key", key), ("tempo", tempo), ("note", note)):
            if value is not None:
                _put(song, name, int(value) if isinstance(value, float) and value.is_integer() else value)

    return _with_song(text, song_number, change)


def move_song(text: str, song_number: int, to: int) -> str:
    """Return the set file with one song moved to place `to` (both from 1); blank lines stay where they are."""
    blocks = _blocks(text)
    _check_number(song_number, len(blocks.songs))
    _check_number(to, len(blocks.songs))
    blocks.songs.insert(to - 1, blocks.songs.pop(song_number - 1))
    return blocks.text()


def drop_song(text: str, song_number: int) -> str:
    """Return the set file without one song (from 1) and its lines."""
    blocks = _blocks(text)
    _check_number(song_number, len(blocks.songs))
    del blocks.songs[song_number - 1], blocks.gaps[song_number - 1]
    return blocks.text()


def add_song(text: str, file: str, at: int | None = None) -> str:
    """Return the set file with a song more, at place `at` from 1 (None: at the end)."""
    blocks = _blocks(text)
    count = len(blocks.songs)
    place = count if at is None else max(0, min(at - 1, count))
    if not count:
        blocks.head = _ended(blocks.head) + "\n" if blocks.head.strip() else blocks.head
    elif place == count and not blocks.gaps[-1]:
        blocks.songs[-1] = _ended(blocks.songs[-1])
        blocks.gaps[-1] = "\n"
    blocks.songs.insert(place, f"[[songs]]\nfile = {quoted(file)}\n")
    blocks.gaps.insert(place, "" if place == count and not blocks.tail else "\n")
    return blocks.text()


def set_pins(text: str, song_number: int, new: Sequence[Pin], gone: Sequence[Pin], tonic: str = "") -> str:
    """Return the set file with pins of one song (from 1) put in or replaced, and those at other places taken out.

    `tonic` is the key whose names the notes get.
    """

    def change(song: Any) -> None:
        for pin in new:
            _put_pin(song, pin, tonic)
        for pin in gone:
            _drop_pins(song, pin)

    return _with_song(text, song_number, change)


def _put_pin(song: Any, pin: Pin, tonic: str) -> None:
    """Put a pin into a song's table, in brackets where that or its other pins are."""
    import tomlkit

    pins = song.get("pins")
    listed = isinstance(song, tomlkit.items.InlineTable) if pins is None else isinstance(pins, tomlkit.items.Array)
    if pins is None:
        song["pins"] = tomlkit.array() if listed else tomlkit.aot()
        pins = song["pins"]
    values = "\n".join(f"{name} = {value}" for name, value in pin_values(pin, tonic).items())
    fresh: Any = tomlkit.inline_table() if listed else tomlkit.table()
    for name, value in tomlkit.parse(f"{values}\n").items():
        fresh.add(name, value)
    place = next((place for place, old in enumerate(pins) if _same_place(old, pin)), None)
    if place is None:
        pins.append(fresh)
    else:
        pins[place] = fresh


def _drop_pins(song: Any, wanted: Pin) -> None:
    pins = song.get("pins", [])
    for place in range(len(pins) - 1, -1, -1):
        if _same_place(pins[place], wanted):
            del pins[place]
    if "pins" in song and not pins:
        del song["pins"]


def replace_bar(text: str, section: str, bar: int, new: str) -> str:
    """Return the song file with the chords of one written bar changed; bar lines and everything else stay.

    `bar` counts as on the stand: from 1, a pickup bar is 0. `new` is what stands between the bar lines.
    """
    plain, first, end = _bar_span(text, section, bar)
    changed = plain[:first] + new.strip() + plain[end:]
    bom = "\ufeff" if text.startswith("\ufeff") else ""
    return bom + (changed.replace("\n", "\r\n") if "\r\n" in text else changed)


def bar_text(text: str, section: str, bar: int) -> str:
    """Return what stands between the bar lines of one written bar, as `replace_bar` takes it."""
    plain, first, end = _bar_span(text, section, bar)
    return plain[first:end]


def _bar_span(text: str, section: str, bar: int) -> tuple[str, int, int]:
    """Return the file's text with plain line ends, and where in it the chords of a bar begin and end."""
    table, sheet = read_table(text, "")
    owner = table.get("sections", {}).get(section)
    if owner is None:
        raise ChartError("", (Fault(1, 1, f"there is no section {section} any more", "it was changed elsewhere"),))
    value = owner["bars"]
    spans: list[list[Sign]] = [[]]
    for sign in signs(value):
        if sign.kind in ("bar", "double", "open", "close", "ending", "times"):
            spans.append([])
        else:
            spans[-1].append(sign)
    written = [span for span in spans if span]
    place = bar if owner.get("pickup") else bar - 1
    _check_number(place + 1, len(written))
    offsets = sheet.places.strings["sections", section, "bars"]
    first, end = written[place][0], _end_of(value, written[place][-1])
    return sheet.places.text, offsets[first.offset], offsets[end]


def _end_of(value: str, sign: Sign) -> int:
    """Return the offset after a sign; the text of a bracketed one lacks its brackets, so the value is searched."""
    if sign.kind in ("mark", "meter", "beats", "bracket"):
        return value.index(")", sign.offset) + 1
    return sign.offset + len(sign.text)


def _document(text: str) -> "TOMLDocument":
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        return tomlkit.parse(text)
    except TOMLKitError as error:
        raise ChartError("", (Fault(1, 1, f"the file cannot be changed: {error}", "mend it first"),)) from None


def _with_song(text: str, number: int, change: Callable[[Any], None]) -> str:
    """Return a set's file changed in one song (from 1); what stands above the next is left alone."""
    import tomlkit

    blocks = _blocks(text)
    if blocks.songs:
        _check_number(number, len(blocks.songs))
        document = _document(_ended(blocks.songs[number - 1]))
        change(_listed_song(document, 1))
        blocks.songs[number - 1] = tomlkit.dumps(document)
    else:
        # The songs are a list in brackets.
        document = _document(blocks.head)
        change(_listed_song(document, number))
        blocks.head = tomlkit.dumps(document)
    return blocks.text()


def _listed_song(document: "TOMLDocument", number: int) -> Any:
    songs: Any = document.get("songs", [])
    _check_number(number, len(songs))
    return songs[number - 1]


def _check_number(number: int, count: int) -> None:
    if not 1 <= number <= count:
        raise ChartError("", (Fault(1, 1, f"there is no number {number}", f"the file has {count}"),))


def _put(owner: Any, name: str, value: object) -> None:
    if value == "" or (name == "tempo" and value == 0):
        if name in owner:
            del owner[name]
        return
    owner[name] = value


def _same_place(table: Any, pin: Pin) -> bool:
    try:
        beat = Fraction(str(table.get("beat", 1)))
    except ValueError:
        return False
    return (table.get("section"), table.get("bar", 1), beat) == pin.place


def _ended(text: str) -> str:
    return text if not text or text.endswith("\n") else text + "\n"


@dataclass(slots=True)
class _Blocks:
    """A set file in pieces: what stands before its songs, each song and the blank lines after it, and what follows.

    The pieces have plain line ends, `line_end` are the file's own.
    """

    head: str
    songs: list[str]
    gaps: list[str]
    tail: str
    line_end: str = "\n"

    def text(self) -> str:
        """Return the file put together again."""
        songs = [_ended(song) for song in self.songs[:-1]] + self.songs[-1:]
        text = self.head + "".join(song + gap for song, gap in zip(songs, self.gaps, strict=True)) + self.tail
        return text.replace("\n", self.line_end)


def _blocks(text: str) -> _Blocks:
    """Take a set file apart.

    Comments straight above a [[songs]] line go with that song, its own tables ([[songs.pins]]) stay in its block, and
    remarks at the end of the file stay at the end.
    """
    line_end = "\r\n" if "\r\n" in text else "\n"
    text = text.replace("\r\n", "\n")
    lines = text.splitlines(keepends=True)
    starts = [number for number, line in enumerate(lines) if re.match(r"\s*\[\[\s*songs\s*\]\]", line)]
    if not starts:
        return _Blocks(text, [], [], "", line_end)
    others = (
        number
        for number, line in enumerate(lines)
        if number > starts[-1] and re.match(r"\s*\[", line) and not re.match(r"\s*\[\[?\s*songs\b", line)
    )
    ends = next((_with_comments(lines, number) for number in others if _is_header(text, number)), None)
    if ends is None:
        ends = _end_of_values(lines)
    cuts = [*(_with_comments(lines, start) for start in starts), ends]
    blocks = _Blocks("".join(lines[: cuts[0]]), [], [], "".join(lines[ends:]), line_end)
    for cut, after in pairwise(cuts):
        last = after
        while last > cut + 1 and not lines[last - 1].strip():
            last -= 1
        blocks.songs.append("".join(lines[cut:last]))
        blocks.gaps.append("".join(lines[last:after]))
    return blocks


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
