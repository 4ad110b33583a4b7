"""What belongs to a bar and goes with it when bars move: pins, and lines of the note (`Verse bar 3: watch him`)."""

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from engine.song.model import Pin, Song
from engine.song.plain_edits import edited

Moved = Callable[[str, int], tuple[str, int] | None]
"""Section and bar before (bars from 1, a pickup is 0) -> where they are after, None for a bar that is gone."""

_BAR_NOTE = re.compile(r"(?P<section>.+) bar (?P<bar>\d{1,4}):(?P<words>.*)")


def moved_note(note: str, moved: Moved) -> str:
    """Return a note whose lines for bars have gone with their bars; those of bars that are gone are left out."""
    lines = []
    for line in note.splitlines():
        found = _BAR_NOTE.fullmatch(line.strip())
        there = moved(found["section"], int(found["bar"])) if found else None
        if found and there is None:
            continue
        lines.append(f"{there[0]} bar {there[1]}:{found['words']}" if found and there else line)
    return "\n".join(lines)


def moved_pins(pins: tuple[Pin, ...], moved: Moved) -> tuple[Pin, ...]:
    """Return the pins that have gone with their bars."""
    places = ((pin, moved(pin.section, pin.bar)) for pin in pins)
    return tuple(replace(pin, section=there[0], bar=there[1]) for pin, there in places if there)


def moved_song(song: Song, moved: Moved) -> Song:
    """Return a song, as it is played tonight, whose pins and note have gone with their bars."""
    return replace(song, pins=moved_pins(song.pins, moved), note=moved_note(song.note, moved))


def with_places(text: str, moved: Moved) -> str:
    """Return a song's file whose pins and note have gone with their bars; the rest of it stays as it is."""
    return edited(text, lambda song: _move(song, moved))


def _move(song: Any, moved: Moved) -> None:
    import tomlkit

    pins = song.get("pins", [])
    for place in range(len(pins) - 1, -1, -1):
        pin = pins[place]
        before = str(pin["section"]), int(pin.get("bar", 1))
        there = moved(*before)
        if there is None:
            del pins[place]
        elif there != before:
            pin["section"], pin["bar"] = there
    if "pins" in song and not pins:
        del song["pins"]
    note = str(song.get("note", ""))
    if (new := moved_note(note, moved)) != "\n".join(note.splitlines()):
        song["note"] = tomlkit.string(new, multiline="\n" in new)
