"""How one section is voiced, where it asks for something else than the song."""

from engine.method_names import HAND_CHOICES, METHOD_CHOICES, TEXTURE_CHOICES
from engine.song.fields import Sheet, Table
from engine.song.model import SectionVoicing
from engine.song.source_positions import Path

WORDS = {
    "method": METHOD_CHOICES, "texture": TEXTURE_CHOICES, "hands": HAND_CHOICES, "sound": ("piano", "pad", "organ"),
}  # fmt: skip
KEYS = (*WORDS, "bass")
"""What a section may say of its voicing."""


def read_section_voicing(sheet: Sheet, table: Table, path: Path) -> SectionVoicing:
    """Return what a section asks for; "" and None where the song's holds."""
    words = {name: sheet.word(table, (*path, name), choices) for name, choices in WORDS.items() if name in table}
    bass = sheet.truth(table, (*path, "bass")) if "bass" in table else None
    return SectionVoicing(**words, bass=bass)
