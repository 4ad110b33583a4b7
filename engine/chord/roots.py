"""Reading a note name at the start of a symbol: English, German or fixed-do."""

import re

from engine.chord.house_rules import HouseRules
from engine.theory.pitch import NoteName, note_name

_ENGLISH = re.compile(r"[A-G](?:##|bb|#|b)?")
_GERMAN = re.compile(r"(?:[ACDEFGH]is|[CDFGH]es|As|Es|[A-H])(?:#|b)?")
_SOLFEGE = re.compile(r"(Do|Re|Ré|Mi|Fa|Sol|La|Si)(#|b)?")
_SYLLABLES = {"Do": "C", "Re": "D", "Ré": "D", "Mi": "E", "Fa": "F", "Sol": "G", "La": "A", "Si": "B"}


def read_root(text: str, rules: HouseRules) -> tuple[NoteName, int, bool] | None:
    """Return (name, characters read, minor by lower case) of the note name that `text` starts with, or None."""
    lower = rules.lower_minor and text[:1].islower()
    tried = text[:1].upper() + text[1:] if lower else text
    if rules.names == "solfege":
        found = _SOLFEGE.match(tried)
        return (note_name(_SYLLABLES[found[1]] + (found[2] or "")), found.end(), lower) if found else None
    if rules.names == "german":
        found = _GERMAN.match(tried)
        return (_german(found[0]), found.end(), lower) if found else None
    found = _ENGLISH.match(tried)
    return (note_name(found[0]), found.end(), lower) if found else None


def _german(text: str) -> NoteName:
    """Read a German name: H is B natural, B is B flat; is raises, es (s after A, E) lowers. Source: common practice."""
    letter, rest = text[0], text[1:]
    name = NoteName(-2) if letter == "B" else note_name("B" if letter == "H" else letter)
    if rest.startswith("is"):
        return name.up(7)
    if rest.startswith("es") or (rest.startswith("s") and letter in "AE"):
        return name.up(-7)
    return name.up(7 * (rest.count("#") - rest.count("b")))


def spell_root(name: NoteName, rules: HouseRules, lower: bool = False) -> str:
    """Return a note as a chart of these rules writes it, in lower case where that says minor."""
    text = str(name)
    if rules.names == "solfege":
        text = next(syllable for syllable, letter in _SYLLABLES.items() if letter == text[0]) + text[1:]
    elif rules.names == "german":
        text = _in_german(text[0], text[1:])
    return text[0].lower() + text[1:] if lower else text


def _in_german(letter: str, signs: str) -> str:
    if letter == "B":
        return "B" if signs == "b" else "H" + ("is" * signs.count("#") or "es" * signs.count("b"))
    flats = "s" + "es" * (len(signs) - 1) if letter in "AE" else "es" * len(signs)
    return letter + ("is" * len(signs) if "#" in signs else flats if signs else "")
