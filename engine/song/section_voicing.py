"""How one section is voiced, where it asks for something else than the song."""

from engine.song.fields import Sheet, Table
from engine.song.header import VOICING
from engine.song.model import SectionVoicing
from engine.song.source_positions import Path

WORDS = {name: VOICING[name] for name in ("method", "texture", "hands", "sound")}
KEYS = (*WORDS, "bass")
"""What a section may say of its voicing."""


def read_section_voicing(sheet: Sheet, table: Table, path: Path) -> SectionVoicing:
    """Return what a section asks for; "" and None where the song's holds."""
    words = {name: sheet.word(table, (*path, name), choices) for name, choices in WORDS.items() if name in table}
    bass = sheet.truth(table, (*path, "bass")) if "bass" in table else None
    return SectionVoicing(**words, bass=bass)
