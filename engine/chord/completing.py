"""Chord symbols that begin with what is typed."""

import re

from engine.chord.quality import KNOWN

COMMON = (
    "7", "m7", "maj7", "m", "6", "m6", "9", "m9", "maj9", "sus4", "7sus4", "9sus4", "dim7", "m7b5", "dim", "aug", "7b9",
    "7#9", "7alt", "7#5", "13", "m11", "7#11", "maj7#11", "6/9", "add9", "sus2", "m(maj7)",
)  # fmt: skip
"""Qualities that are offered first. Source: common practice of lead sheets, the order is from memory."""

_ORDER = (*COMMON, *(quality for quality in KNOWN if quality and quality not in COMMON))
_WORD = re.compile(r"(?P<root>[A-G][#b♯♭]?)(?P<rest>[^\s/|]*)")


def completed_symbols(typed: str) -> tuple[str, ...]:
    """Return the symbols in normal English spelling that go on from what is typed, the most common first; () for what
    is no beginning of one."""
    found = _WORD.fullmatch(typed)
    if not found:
        return ()
    rest = found["rest"]
    return tuple(found["root"] + quality for quality in _ORDER if quality.startswith(rest) and quality != rest)
