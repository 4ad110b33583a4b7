"""Reading a chord symbol in any of the usual dialects."""

import re
from difflib import get_close_matches
from functools import lru_cache

from engine.chord.formula import read_degrees
from engine.chord.house_rules import DEFAULT_RULES, HouseRules
from engine.chord.model import Chord
from engine.chord.quality import KNOWN, quality_of
from engine.chord.roots import read_root
from engine.chord.spelling import spelled_tones
from engine.chord.tokens import MAJOR_SEVENTH, Unread
from engine.errors import SymbolError
from engine.theory.pitch import NoteName

__all__ = ["DEFAULT_RULES", "HouseRules", "read_symbol"]

SILENCE = frozenset(("n.c.", "nc", "n.c", "no chord", "tacet"))
"""Ways to ask for no chord, in lower case. Source: common practice."""

LONGEST = 64
"""Characters of a symbol; more is no symbol but a line of text."""

_PLAIN = str.maketrans("♭♯−–º˚Ø∅⌀\\△∆⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻", "b#--°°øøø/ΔΔ0123456789+-")
"""Signs of the same meaning as one that is read, one for one so that columns stay."""


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
    return Chord(text.strip(), root, bass, quality_of(degrees), spelled_tones(root, degrees), reading)


def _split_bass(text: str, plain: str, start: int, root: NoteName, rules: HouseRules) -> tuple[str, NoteName]:
    """Return what stands between root and bass, and the bass."""
    rest = plain[start:]
    for sign in ("/", " on "):
        at = rest.rfind(sign)
        if at < 0:
            continue
        wanted = rest[at + len(sign) :].strip()
        found = read_root(wanted, rules)
        if found and found[1] == len(wanted) and not rest[:at].endswith("/"):
            return rest[:at], found[0]
        if sign == "/" and not _belongs(rest, at):
            found_words = f"{wanted or 'nothing'} after the slash is no bass note, as in C/E"
            if re.fullmatch(r"[b#+-]?\d+", wanted) and not rest[:at].endswith("/"):
                found_words = f"a tension stands in brackets: {plain[: start + at]}({wanted})"
            if rest[:at].endswith("/"):
                found_words = "one slash stands before a bass note, as in C/E"
            raise SymbolError(text, start + at + 2, found_words)
    return rest, root


def _belongs(rest: str, at: int) -> bool:
    """Return whether a slash is part of 6/9, m/maj7 or sus2/4."""
    before, after = rest[:at], rest[at + 1 :]
    return (
        (before.endswith("6") and after.startswith("9"))
        or re.match(MAJOR_SEVENTH, after) is not None
        or before.endswith(("sus2", "sus4"))
    )


def _root_hint(plain: str, rules: HouseRules) -> str:
    if rules.names == "english" and plain[0] in "Hh":
        return 'no note name; if H is B natural here, say names = "german"'
    if rules.names == "english" and plain[0] in "abcdefg":
        return f"a root is a capital letter: {plain[0].upper()}{plain[1:]}"
    return "a chord begins with its root, A to G with # or b"


def _hint(plain: str, length: int, rest: str, error: Unread) -> str:
    near = [] if error.sure else get_close_matches(rest, KNOWN, n=3, cutoff=0.6)
    meant = next((one for one in near if one != rest and _same_figures(one, rest)), None)
    return f"did you mean {plain[:length]}{meant}?" if meant is not None else error.why


def _same_figures(one: str, other: str) -> bool:
    """Return whether two spellings have the same numbers and begin their words alike: else they are two chords."""
    figures = [set(re.findall(r"[b#+-]?(?:1[13]|\d)", text)) for text in (one, other)]
    words = [re.sub(r"[b#](?=\d)|[^A-Za-z]", "", text).lower()[:1] for text in (one, other)]
    return figures[0] == figures[1] and words[0] == words[1]
