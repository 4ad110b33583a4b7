"""The comping rhythm that a song, a section or a song's entry in a set asks for by name."""

from difflib import get_close_matches

from engine.comp_names import COMP_NAMES, plain_name
from engine.song.fields import Sheet, Table
from engine.song.source_positions import Path

HELD = "held"
"""In place of a rhythm: the chords are held, though the song or its file says otherwise."""


def read_comp(sheet: Sheet, table: Table, path: Path) -> str:
    """Return a rhythm's name, "" for none. One that is not ours may be the player's own: only a near miss is noted."""
    name = plain_name(sheet.line(table, path))
    near = get_close_matches(name, COMP_NAMES, n=1, cutoff=0.7)
    if name and name not in (*COMP_NAMES, HELD) and near:
        remark = f"is no rhythm of the trade: did you mean {near[0]}, or is it one of your own?"
        sheet.notes.append((*sheet.places.value(*path), name, remark))
    return name
