"""The roadmap of a song's file changed entry by entry; entries that stay keep their words."""

import re
from collections.abc import Callable

from engine.song.fields import read_table
from engine.song.plain_edits import edited, like, patched
from engine.song.roadmap import Slip, read_entry
from engine.song.writing import quoted

Entry = tuple[str, int]
"""A section's name, and how often in a row it is played."""

Change = Callable[[Entry, bool], tuple[Entry, ...]]
"""What stands for an entry, given the entry and whether it is the section's last one in the roadmap."""


def with_entries(text: str, change: Change) -> str:
    """Return a song's file with the entries of its roadmap changed; one without a roadmap stays as it is.

    The file must read without a fault.
    """
    table, sheet = read_table(text, "")
    names, value = tuple(table.get("sections", {})), table.get("roadmap")
    if isinstance(value, list):
        return _with_list(text, [*_changed([str(item) for item in value], names, change)])
    if not isinstance(value, str):
        return text
    words = ",".join(_changed(re.split(r"[,\n]", value), names, change))
    offsets = sheet.places.strings["roadmap",]
    mark = sheet.places.text[offsets[0] - 1] if offsets[0] else '"'
    if "\n" in value or mark != '"':
        # A text of several lines, or in single quotes, goes into one line of double ones.
        start = sheet.places.values["roadmap",]
        closing = 3 if sheet.places.text.startswith(('"""', "'''"), start) else 1
        return like(text, patched(sheet.places.text, [(start, offsets[-1] + closing, quoted(words.strip()))]))
    return like(text, patched(sheet.places.text, [(offsets[0], offsets[-1], quoted(words.strip())[1:-1])]))


def _changed(entries: list[str], names: tuple[str, ...], change: Change) -> list[str]:
    read = [_read(entry, names) for entry in entries]
    last = {entry[0]: place for place, entry in enumerate(read) if entry}
    told = []
    for place, (written, entry) in enumerate(zip(entries, read, strict=True)):
        new = change(entry, last[entry[0]] == place) if entry else ()
        if new == (entry,):
            told.append(written)
        else:
            told += [f" {name}" if times == 1 else f" {name} x{times}" for name, times in new]
    return told


def _read(written: str, names: tuple[str, ...]) -> Entry | None:
    answer = read_entry(written.strip(), 0, names) if written.strip() else ()
    return None if isinstance(answer, Slip) or not answer else (answer[0], len(answer))


def _with_list(text: str, entries: list[str]) -> str:
    return edited(text, lambda song: song.update(roadmap=[entry.strip() for entry in entries]))
