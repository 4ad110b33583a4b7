"""Chord words of one song: English or German names, house rules and numbers, all turned into plain English symbols.

So that every later part (transposing, plans, screens) reads a symbol without knowing how its chart was written.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from engine.chord.house_rules import DEFAULT_RULES, HouseRules
from engine.chord.model import Chord
from engine.chord.symbol import is_silence, read_symbol
from engine.errors import SymbolError


@dataclass(frozen=True, slots=True)
class Wording:
    """How a song's chords are written: house rules, and for numbers the key and the degree of a minor tonic (1, 6)."""

    rules: HouseRules = DEFAULT_RULES
    numbers: bool = False
    key: str = "C"
    minor_tonic: int = 1


@lru_cache(maxsize=32)
def reader_of(wording: Wording) -> Callable[[str], tuple[str, Chord | None]]:
    """Return the function that reads one word of such a song: (symbol in English, chord); it raises SymbolError."""

    @lru_cache(maxsize=1024)
    def read(word: str) -> tuple[str, Chord | None]:
        return _read(word, wording)

    return read


def _read(word: str, wording: Wording) -> tuple[str, Chord | None]:
    if wording.numbers:
        from engine.chord.numbers import symbol_of_number

        word = word if is_silence(word) else symbol_of_number(word, wording.key, wording.minor_tonic)
    chord = read_symbol(word, wording.rules)
    if chord is None:
        return "N.C.", None
    if wording.rules == DEFAULT_RULES:
        return word, chord
    return _in_english(word, chord)


def _in_english(word: str, chord: Chord) -> tuple[str, Chord]:
    """Keep the word where plain reading gives the same tones, else write the chord's normal English spelling."""
    if _plain_tones(word) == _tones(chord):
        return word, chord
    bass = f"/{chord.bass}" if chord.slash else ""
    symbol = f"{chord.root}{chord.quality}{bass}"
    # A spelling that would be read another way without the house rules is worse than the word itself.
    symbol = symbol if _plain_tones(symbol) == _tones(chord) else word
    return symbol, replace(chord, symbol=symbol)


def _plain_tones(word: str) -> object:
    try:
        return _tones(read_symbol(word))
    except SymbolError:
        return None


def _tones(chord: Chord | None) -> object:
    return chord and (chord.root, chord.bass, chord.tones)
