"""The signs of a chart line: bar lines, repeats, endings, beats, words in brackets and whatever else stands as a chord.

`/` standing alone is a beat and glued (`C/E`) a bass note; a word in brackets may be glued to its chord or spaced.
Source: the signs are the trade's own, as bands write them in plain text (common practice).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

ALONE = ("stop", "ring", "hold")
"""Marks of chords that are struck once, whatever the rhythm or the left hand's pattern."""

MARKS = ("push", *ALONE)
"""Words in brackets after a chord: an eighth early, choked, left to ring, held till the cut-off."""

PLAIN = ("bar", "double", "open", "close", "ending", "again", "stray")
"""Signs that are what they look like; in the others something may be hidden."""

LONGEST = 200
"""Characters beyond which a word is no chord and is looked into no further (own choice)."""

_SIGN = re.compile(
    r"""
    (?P<both>:\|{1,2}:) | (?P<open>\|{1,2}:) | (?P<close>:\|{1,2}) | (?P<double>\|\||\|\]) | (?P<bar>\|)
    | (?P<ending>\[\ ?[0-9]+(?:\ ?[,\-]\ ?[0-9]+)*\.?\]?)
    | (?P<times>[x×]\s?[0-9]+(?=[\s|:\[]|$)|[0-9]+\s?[x×](?:\s+in\s+all)?(?=[\s|:\[]|$))
    | (?P<again>%)
    | (?P<bracket>\([^()|\n]*\))
    | (?P<beat>/+(?=[\s|:\[(]|$))
    | (?P<chord>(?:\([^()|\n]*\)|(?!:\|)[^\s|()\[%])+)
    | (?P<stray>\S)
    """,
    re.VERBOSE,
)
_METER = re.compile(r"\(\s*(\d{1,2}\s*/\s*\d{1,2})\s*\)")
_BEATS = re.compile(r"\(\s*(\d{1,2}(?:\.\d{1,3})?|\d{1,3}/\d{1,2})\s+beats?\s*\)")
_MARKED = re.compile(rf"(?P<chord>.+?)\s*(?P<bracket>\(\s*(?:{'|'.join(MARKS)})\s*\))", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign: `kind` is bar, double, open, close, ending, times, again, beat, meter, beats, mark, bracket, chord or
    stray; `text` what it says (a mark without its brackets); `offset` its place in the text; `glued` to the one before.
    """

    kind: str
    text: str
    offset: int
    glued: bool = False


def signs(text: str) -> Iterator[Sign]:
    """Read the signs of a chart from left to right; nothing is refused here."""
    end = -1
    for found in _SIGN.finditer(text):
        kind, text, start = str(found.lastgroup), found[0], found.start()
        if kind in PLAIN or (kind == "chord" and "(" not in text):
            yield Sign(kind, text, start, start == end)
        else:
            yield from _sign(kind, text, start, start == end)
        end = found.end()


def _sign(kind: str, text: str, offset: int, glued: bool) -> Iterator[Sign]:
    if kind == "both":
        yield Sign("close", text[:-1], offset, glued)
        yield Sign("open", text[-1], offset + len(text) - 1, True)
    elif kind == "beat":
        for place in range(len(text)):
            yield Sign("beat", "/", offset + place, glued or place > 0)
    elif kind == "times":
        yield Sign("times", f"x{re.sub('[^0-9]', '', text)}", offset, glued)
    elif kind == "bracket":
        yield _bracket(text, offset, glued)
    elif len(text) > LONGEST:
        yield Sign(kind, text, offset, glued)
    elif kind == "chord" and (marked := _MARKED.fullmatch(text)):
        yield from _sign("chord", marked["chord"], offset, glued)
        yield _bracket(marked["bracket"], offset + marked.start("bracket"), True)
    elif kind == "chord" and (timed := re.fullmatch(r"(.+?)(\([^()]*\))", text)) and _BEATS.fullmatch(timed[2]):
        yield from _sign("chord", timed[1], offset, glued)
        yield _bracket(timed[2], offset + timed.start(2), True)
    else:
        yield Sign(kind, text, offset, glued)


def _bracket(text: str, offset: int, glued: bool) -> Sign:
    word = text[1:-1].strip().lower()
    if word in MARKS:
        return Sign("mark", word, offset, glued)
    if found := _METER.fullmatch(text):
        return Sign("meter", found[1], offset, glued)
    if found := _BEATS.fullmatch(text):
        return Sign("beats", found[1], offset, glued)
    return Sign("bracket", text, offset, glued)
