"""Pasted bars mended so that they can be read: chords that share no bar evenly, words between them, empty bars.

Whatever is mended is said, with the line it stands in.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from engine.chord.house_rules import HouseRules
from engine.chord.symbol import is_silence
from engine.formats.chart_text.lines import is_chord, is_number
from engine.song.signs import Sign, signs
from engine.theory.meter import Meter, shared_evenly
from engine.theory.meter import meter as read_meter

LETTER = re.compile("[A-Z][1-4]?")
"""What may be a section's letter though a chord is written like it: A, B2."""
BEATS = ".-–—_"
"""Signs that many type for one beat more."""
_WORD = re.compile(r"(?![a-g](?:is|es|m|#|b|\d))[a-zäöüéèáß][a-zäöüéèáß',.!?-]+", re.UNICODE)
"""A word in small letters behind a chord: no chord is written like that."""
_BAR_LINE = re.compile(r":?\|+:?")
EDGES = ("bar", "double", "open", "close", "ending", "times")


@dataclass(slots=True)
class Mending:
    """One line of bars being mended; `before` is the last bar's text, `doubts` grows."""

    meter: Meter
    rules: HouseRules
    numbers: bool
    line: int
    before: str = ""
    doubts: list[str] = field(default_factory=list)
    words: str = ""

    def doubt(self, remark: str) -> None:
        """Note a doubt in this line."""
        self.doubts.append(f"line {self.line}: {remark}")

    def reads(self, word: str) -> bool:
        """Return whether a word is a chord of this chart, N.C. included."""
        if not self.numbers or is_silence(word):
            return is_chord(word, self.rules)
        return is_number(word)


@dataclass(slots=True)
class _Struck:
    """A chord as it is to be written: its word with what stands in brackets behind it, and the beats it asked for."""

    text: str
    beats: int = 1


def are_numbers(lines: Iterable[str]) -> bool:
    """Return whether most chords in lines of bars are degrees."""
    words = [sign.text for line in lines for sign in signs(line) if sign.kind == "chord"]
    return bool(words) and sum(is_number(word) for word in words) > len(words) / 2


def mended(text: str, mending: Mending) -> str:
    """Return a line of bars that can be read; words after the last bar line go to `mending.words`."""
    found = list(signs(text))
    last = max((place for place, sign in enumerate(found) if sign.kind in EDGES), default=-1)
    tail = found[last + 1 :]
    if tail and not all(_plays(sign, mending) for sign in tail):
        mending.words = text[tail[0].offset :].strip()
        found = found[: last + 1]
    out: list[str] = []
    inside: list[Sign] = []
    fresh = False
    for sign in found:
        if sign.kind not in EDGES:
            inside.append(sign)
            continue
        if inside:
            out.append(_bar(inside, mending))
        elif sign.kind == "bar" and fresh and mending.before:
            mending.doubt("an empty bar, read as the bar before again")
            out.append(mending.before)
        inside, fresh = [], sign.kind in ("bar", "double", "open")
        out.append(_edge(sign))
    if inside:
        out.append(_bar(inside, mending))
    return " ".join(out)


def opens_with_bar(before: str, bars: str, later: bool, mending: Mending) -> bool:
    """Return whether what stands before a line's first bar line is a bar of its own, as where bar lines only part bars.

    Chords are a bar where they make the line's bars even, or where other bars of the section came before (`later`).
    Else they are a pickup, and a lone letter is the name of a section. (Own choice: lines have four bars, or two.)
    """
    if not before or before.startswith("(") or not are_bars(before, mending):
        return False
    cells = [cell for cell in _BAR_LINE.split(bars) if any(_is_bars(word, mending) for word in cell.split())]
    return len(cells) % 2 == 1 or (later and not LETTER.fullmatch(before))


def are_bars(text: str, mending: Mending) -> bool:
    """Return whether every word of a text plays in a bar."""
    return all(_is_bars(word, mending) for word in text.split())


def _is_bars(word: str, mending: Mending) -> bool:
    return word in ("/", "%") or mending.reads(word)


def _edge(sign: Sign) -> str:
    if sign.kind == "ending":
        return sign.text.rstrip("].").rstrip() + "."
    return {"open": "||:", "close": ":||", "double": "||", "bar": "|"}.get(sign.kind, sign.text)


def _plays(sign: Sign, mending: Mending) -> bool:
    if sign.kind == "chord":
        return mending.reads(sign.text)
    return sign.kind in ("beat", "again", "meter", "beats", "mark")


def _bar(inside: list[Sign], mending: Mending) -> str:
    """Return one bar's text: chords with the beats that they need."""
    meter, opening = mending.meter, ""
    struck: list[_Struck] = []
    words: list[str] = []
    for sign in inside:
        if sign.kind == "meter":
            meter, opening = _meter(sign.text, mending)
        elif sign.kind == "again" and len(inside) == 1:
            return _again(opening, mending)
        elif (sign.kind == "again" and struck) or sign.kind == "beat" or not sign.text.strip(BEATS):
            _beat(struck, mending)
        elif sign.kind in ("mark", "beats") and struck:
            said = f"{sign.text} beats" if sign.kind == "beats" else sign.text
            struck[-1].text += f"({said})"
        elif sign.kind == "bracket" and mending.reads(sign.text.strip("() ")):
            struck.append(_Struck(sign.text.strip("() ")))
        elif sign.kind == "chord" and struck and _WORD.fullmatch(sign.text) and not mending.reads(sign.text):
            words.append(sign.text)
        elif sign.kind == "chord":
            struck.append(_Struck(_chord(sign.text, mending)))
        else:
            mending.doubt(f"{sign.text} was left out")
    if words:
        mending.doubt(f"the words {' '.join(words)!r} were left out")
    if not struck:
        return mending.before or "N.C."
    mending.before = opening + _shared(struck, meter, mending)
    return mending.before


def _meter(text: str, mending: Mending) -> tuple[Meter, str]:
    try:
        meter = read_meter(text)
    except ValueError:
        mending.doubt(f"({text}) is no meter and was left out")
        return mending.meter, ""
    return meter, f"({meter}) " if meter != mending.meter else ""


def _again(opening: str, mending: Mending) -> str:
    if not mending.before:
        mending.doubt("% and no bar before it, read as N.C.")
        mending.before = f"{opening}N.C."
    return mending.before


def _beat(struck: list[_Struck], mending: Mending) -> None:
    """Take a beat: one more of the chord before it, over the bar line too; of silence where there is none."""
    if struck:
        struck[-1].beats += 1
    else:
        struck.append(_Struck("/" if mending.before else "N.C."))


def _chord(word: str, mending: Mending) -> str:
    if mending.reads(word):
        return word
    bare = word.strip("()[]{}.,;:*'\"")
    if bare and mending.reads(bare):
        return bare
    mending.doubt(f"{word[:30]} is no chord, N.C. stands in its place")
    return "N.C."


def _shared(struck: list[_Struck], meter: Meter, mending: Mending) -> str:
    """Return the chords with slashes or beats in brackets where they do not share the bar evenly."""
    weights, texts = [one.beats for one in struck], [one.text for one in struck]
    total, count, beats = sum(weights), len(struck), meter.beats
    even = count == total and shared_evenly(count, beats)
    if any("beats)" in text for text in texts) or even:
        return " ".join(texts)
    if total == beats or (meter.compound and total == beats * 3):
        return " ".join(text + " /" * (weight - 1) for text, weight in zip(texts, weights, strict=True))
    mending.doubt(f"{' '.join(texts)} does not fill {meter} evenly, shared by proportion")
    if texts[0].startswith("/"):
        texts[0] = "N.C."
    if count == total and count < beats:
        return " ".join([texts[0], *["/"] * (beats - count), *texts[1:]])
    shares = [Fraction(beats * weight, total) for weight in weights]
    return " ".join(f"{text}({share} beats)" for text, share in zip(texts, shares, strict=True))
