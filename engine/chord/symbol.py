"""Reading a chord symbol in any of the usual dialects."""

from difflib import get_close_matches
from functools import lru_cache

from engine.chord.formula import read_degrees
from engine.chord.house_rules import DEFAULT_RULES, HouseRules
from engine.chord.model import DEGREE_FIFTHS, Chord, Tone
from engine.chord.quality import KNOWN, quality_of
from engine.chord.roots import read_root
from engine.chord.tokens import Unread
from engine.errors import SymbolError
from engine.theory.pitch import NoteName

__all__ = ["DEFAULT_RULES", "HouseRules", "read_symbol"]

SILENCE = frozenset(("n.c.", "nc", "n.c", "no chord", "tacet"))
"""Ways to ask for no chord, in lower case. Source: common practice."""

LONGEST = 64
"""Characters of a symbol; more is no symbol but a line of text."""

_PLAIN = str.maketrans({"♭": "b", "♯": "#", "−": "-", "–": "-", "º": "°", "Ø": "ø", "\\": "/", "△": "Δ", "∆": "Δ"})


def is_silence(text: str) -> bool:
    """Return whether a word asks for no chord."""
    return text.strip().lower() in SILENCE


@lru_cache(maxsize=8192)
def read_symbol(text: str, rules: HouseRules = DEFAULT_RULES) -> Chord | None:
    """Read a chord symbol; None is N.C., a bar without a chord.

    `reading` of the chord says how a doubtful symbol was taken.

    Raises:
        SymbolError: the symbol cannot be read, with the column and a hint.
    """
    plain = text.strip().translate(_PLAIN)
    if is_silence(plain):
        return None
    if not plain or len(plain) > LONGEST:
        raise SymbolError(text, 1, "a chord symbol is missing" if not plain else "too long for a chord symbol")
    found = read_root(plain, rules)
    if found is None:
        raise SymbolError(text, 1, _root_hint(plain, rules))
    root, length, minor = found
    rest, bass = _split_bass(text, plain, length, root, rules)
    try:
        degrees, reading = read_degrees(rest, rules, minor)
    except Unread as error:
        raise SymbolError(text, length + error.at + 1, _hint(plain, length, rest, error)) from None
    tones = tuple(Tone(degree, root.up(DEGREE_FIFTHS[degree])) for degree in degrees)
    return Chord(text.strip(), root, bass, quality_of(degrees), tones, reading)


def _split_bass(text: str, plain: str, start: int, root: NoteName, rules: HouseRules) -> tuple[str, NoteName]:
    """Return what stands between root and bass, and the bass."""
    rest = plain[start:]
    for sign in ("/", " on "):
        at = rest.rfind(sign)
        if at < 0:
            continue
        wanted = rest[at + len(sign) :].strip()
        found = read_root(wanted, rules)
        if found and found[1] == len(wanted):
            return rest[:at], found[0]
        if sign == "/" and not _belongs(rest, at):
            found_words = f"{wanted or 'nothing'} after the slash is no bass note, as in C/E"
            raise SymbolError(text, start + at + 2, found_words)
    return rest, root


def _belongs(rest: str, at: int) -> bool:
    """Return whether a slash is part of 6/9, m/maj7 or sus2/4."""
    before, after = rest[:at], rest[at + 1 :]
    return (
        (before.endswith("6") and after.startswith("9"))
        or after.startswith(("m", "M"))
        or before.endswith(("sus2", "sus4"))
    )


def _root_hint(plain: str, rules: HouseRules) -> str:
    if rules.names == "english" and plain[0] in "Hh":
        return 'no note name; if H is B natural here, say names = "german"'
    if rules.names == "english" and plain[0] in "abcdefg":
        return f"a root is a capital letter: {plain[0].upper()}{plain[1:]}"
    return "a chord begins with its root, A to G with # or b"


def _hint(plain: str, length: int, rest: str, error: Unread) -> str:
    near = get_close_matches(rest, KNOWN, n=1, cutoff=0.6)
    return f"did you mean {plain[:length]}{near[0]}?" if near and near[0] != rest else error.why
