"""Who has the tune: `tune_is` of a song, a section, or a song's entry in a set."""

from engine.song.fields import Sheet, Table
from engine.song.source_positions import Path

WHOSE = ("theirs", "mine")
"""theirs: someone sings or plays it, the hands stay under it and clear of it; mine: the right hand has it on top."""


def read_whose(sheet: Sheet, table: Table, path: Path) -> str:
    """Return theirs or mine, "" where nothing is said."""
    return sheet.word(table, path, WHOSE) if str(path[-1]) in table else ""
