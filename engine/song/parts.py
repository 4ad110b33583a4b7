"""How single sections are played, beside the song: read, changed, and compared with what the song's own file says.

All that the sections of a song say of it is one text (JSON, `Song.parts`), so that it can be kept and compared with
its file's like any other value of `MANNER`. A value that a section does not have is the song's.
"""

import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from engine.song.fields import Sheet, Table
from engine.song.groove import read_comp, read_left_hand
from engine.song.header import VOICING
from engine.song.model import Section, Song
from engine.song.section_voicing import WORDS
from engine.song.source_positions import Path
from engine.song.whose_tune import WHOSE

AS_SONG = "song"
"""What a set's entry says of a section that is played as the song is, though the song's own file has it otherwise."""

BASS = {"yes": True, "no": False, "": None}
"""What a section says of the bass player; "" what the song does."""

PART_KEYS = (*WORDS, "bass", "comp", "left_hand", "tune_is")
"""What a section may say of how it is played."""

Parts = Mapping[str, Mapping[str, str]]
"""Section -> name of a value -> value."""


def parts_of(text: str) -> dict[str, dict[str, str]]:
    """Return what `Song.parts` says, as values of sections."""
    found: dict[str, dict[str, str]] = json.loads(text) if text else {}
    return found


def with_part(song: Song, name: str, key: str, value: str) -> Song:
    """Return a song with one value of a section changed, "" for the song's; without that section as it is."""
    sections = tuple(_with(part, key, value) if part.name == name else part for part in song.sections)
    return replace(song, sections=sections)


def with_parts(song: Song, parts: Parts) -> Song:
    """Return a song with values of its sections changed, the others left."""
    for name, values in parts.items():
        for key, value in values.items():
            song = with_part(song, name, key, value)
    return song


def differences(own: str, wanted: str) -> dict[str, dict[str, str]]:
    """Return the values in which `wanted` differs from `own`, both as `Song.parts`; "" where it is the song's again."""
    before, after = parts_of(own), parts_of(wanted)
    changed: dict[str, dict[str, str]] = {}
    for name in (*before, *(name for name in after if name not in before)):
        old, new = before.get(name, {}), after.get(name, {})
        values = {key: new.get(key, "") for key in PART_KEYS if new.get(key) != old.get(key)}
        changed |= {name: values} if values else {}
    return changed


def _with(part: Section, key: str, value: str) -> Section:
    if key in ("comp", "left_hand", "tune_is"):
        changed: dict[str, Any] = {key: value}
        return replace(part, **changed)
    voiced: dict[str, Any] = {key: BASS[value] if key == "bass" else value}
    return replace(part, voicing=replace(part.voicing, **voiced))


def read_parts(sheet: Sheet, entry: Table, path: Path) -> dict[str, dict[str, str]]:
    """Return what a set's entry says of single sections tonight; "" where one is played as the song is."""
    table = sheet.table(entry, path)
    return {name: _read(sheet, sheet.table(table, (*path, name)), (*path, name)) for name in table}


def _read(sheet: Sheet, table: Table, path: Path) -> dict[str, str]:
    sheet.unknown(table, path, PART_KEYS, "a section of tonight")
    values = {}
    for key in (key for key in PART_KEYS if key in table):
        if table[key] == AS_SONG:
            values[key] = ""
        elif key == "bass":
            values[key] = "yes" if sheet.truth(table, (*path, key)) else "no"
        elif key == "comp":
            values[key] = read_comp(sheet, table, (*path, key))
        elif key == "left_hand":
            values[key] = read_left_hand(sheet, table, (*path, key))
        else:
            values[key] = sheet.word(table, (*path, key), WHOSE if key == "tune_is" else VOICING[key])
    return values
