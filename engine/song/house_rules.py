"""House rules of a song: `names = "german"` and the `[reading]` table of symbols that bands read in different ways."""

from typing import Any

from engine.chord.house_rules import CHOICES, HouseRules
from engine.song.fields import Sheet, Table
from engine.song.source_positions import Path

SIGNS = {"2": "two", "+": "plus", "°": "o"}
"""A symbol's own sign as a key of [reading] -> the rule's name."""


def read_rules(sheet: Sheet, table: Table) -> HouseRules:
    """Return the house rules of a song; what they do not know becomes a fault of the sheet."""
    path: Path = ("reading",)
    reading = sheet.table(table, path)
    sheet.unknown(reading, path, (*CHOICES, *SIGNS, "lower_minor"), "[reading]")
    found: dict[str, Any] = {}
    for key in reading:
        rule = SIGNS.get(key, key)
        if rule in CHOICES:
            found[rule] = sheet.word(reading, (*path, key), CHOICES[rule])
    if "names" in table:
        found["names"] = sheet.word(table, ("names",), CHOICES["names"])
    return HouseRules(**found, lower_minor=sheet.truth(reading, (*path, "lower_minor")))
