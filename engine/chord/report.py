"""A chord symbol as JSON: the contract of `stillhand chord --json`."""

from typing import Any

from engine.chord.house_rules import DEFAULT_RULES, HouseRules
from engine.chord.symbol import read_symbol
from engine.errors import SymbolError
from engine.theory.key import degree_in_key, read_key


def chord_json(symbol: str, key: str | None = None, rules: HouseRules = DEFAULT_RULES) -> dict[str, Any]:
    """Return root, bass, tones, reading and error of a symbol as JSON values.

    An unreadable symbol has `error` with a column (from 1) and a hint, and null for the rest; N.C. has no tones. With
    a `key` each tone also says its degree in the key's major scale, as `in_key`.
    """
    answer: dict[str, Any] = {"symbol": symbol, **dict.fromkeys(("root", "bass", "tones", "reading", "error"))}
    try:
        chord = read_symbol(symbol, rules)
    except SymbolError as error:
        return {**answer, "error": {"column": error.column, "hint": error.hint}}
    if chord is None:
        return {**answer, "tones": [], "reading": "no chord"}
    tones: list[dict[str, Any]] = [
        {"degree": tone.degree, "name": str(tone.name), "pc": tone.pc} for tone in chord.tones
    ]
    if key is not None:
        tonic = read_key(key).tonic
        for one, tone in zip(tones, chord.tones, strict=True):
            one["in_key"] = degree_in_key(tone.name, tonic)
    names = {"root": str(chord.root), "bass": str(chord.bass)}
    return {**answer, **names, "tones": tones, "reading": chord.reading}
