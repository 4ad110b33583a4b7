"""House rules of a song: `names = "german"` and the `[reading]` table of symbols that bands read in different ways."""

from dataclasses import fields, replace
from difflib import get_close_matches

from engine.chord.symbol import DEFAULT_RULES, HouseRules
from engine.song.fields import Sheet, Table

NAMES = ("english", "german")


def read_rules(sheet: Sheet, table: Table) -> HouseRules:
    """Return the house rules of a song; what they do not know becomes a fault of the sheet."""
    return HouseRules()
