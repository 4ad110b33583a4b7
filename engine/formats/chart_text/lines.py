"""What each line of pasted text is: a heading, a section's name, bars, chords over words, or words.

Names of sections and signs are the trade's (common practice); a heading may stand in brackets, between stars or under a
stroke, and a chord in square brackets inside the words, [C].
"""

import re
from dataclasses import dataclass

from engine.chord.house_rules import DEFAULT_RULES, HouseRules
from engine.chord.numbers import symbol_of_number
from engine.chord.symbol import read_symbol
from engine.errors import SymbolError
from engine.formats.chart_text.columns import numbered
from engine.formats.chart_text.headings import TITLED, Head, take_facts, take_fields, take_tempo_word

LONGEST_LINE = 2000
"""Characters beyond which a line is none of a chart (own choice)."""
SECTIONS = (
    "intro", "verse", "pre", "pre-chorus", "prechorus", "chorus", "refrain", "bridge", "solo", "interlude", "vamp",
    "turnaround", "tag", "outro", "coda", "ending", "end", "break", "instrumental", "lift", "middle", "head", "strophe",
)  # fmt: skip
_NAMED = re.compile(
    rf"(?P<name>(?:{'|'.join(sorted(SECTIONS, key=len, reverse=True))})(?:[ -]?chorus)?(?:\s+(?:\d{{1,2}}|[A-D]))?)"
    r"\s*:?\s*(?:\(?(?:[x×]\s?(?P<times>\d{1,2})|(?P<timed>\d{1,2})\s?[x×])\)?)?\s*:?",
    re.IGNORECASE,
)
_BRACKETED = re.compile(
    r"\[(?P<name>[^\]\[|]{1,40})\]\s*(?:\(?(?:[x×]\s?(?P<times>\d{1,2})|(?P<timed>\d{1,2})\s?[x×])\)?)?\s*:?"
)
_DECORATION = re.compile(r"^[\s*=_~#<(-]+|[\s*=_~#>):-]+$")
"""What stands round a heading: stars, strokes, round brackets."""
_LETTER = re.compile(r"(?P<name>[A-Z]\d?)\s*[:.)]?")
_REMARKED = re.compile(r"(?P<name>[^()|]+?)\s*:?\s*\((?P<remark>[^()|]{2,60})\)\s*:?")
_BRACES = re.compile(r"\{(?P<inside>[^{}]*)\}")
_LABELLED = re.compile(r"(?P<label>[^:|\[\]]{1,30}|\[[^\]|]{1,30}\])\s*:?\s+(?P<chords>\S.*)")
_INLINE = re.compile(r"\[([^\]\[\s]{1,20})\]")


@dataclass(frozen=True, slots=True)
class Line:
    """One line: `kind` is blank, head, section, bars, chords or words; `text` what counts; `name`, `times` and `remark`
    of a section; `turns` are (name, value) of headings that one before
    has set already; `number` from 1."""

    number: int
    kind: str
    text: str
    name: str = ""
    times: int = 1
    remark: str = ""
    turns: tuple[tuple[str, str], ...] = ()


def is_chord(word: str, rules: HouseRules = DEFAULT_RULES) -> bool:
    """Return whether a word reads as a chord or as N.C."""
    try:
        read_symbol(word, rules)
    except SymbolError:
        return False
    return True


def lines_of(text: str, rules: HouseRules = DEFAULT_RULES) -> tuple[list[Line], Head]:
    """Return every line with its kind, and the headings."""
    head = Head()
    found: list[Line] = []
    barred = any("|" in line for line in text.splitlines())
    for number, raw in numbered(text, _is_heading):
        line = "".join(sign if sign.isprintable() else " " for sign in raw).strip()
        found += _label_and_chords(number, line, barred, rules) or [_line(number, line, head, barred, rules)]
    return found, head


def _label_and_chords(number: int, line: str, barred: bool, rules: HouseRules) -> list[Line]:
    """Return a section and its chords from one line, as `INTRO: C - Am - F - G (2x)`; [] where it is no such line."""
    said = None if barred else _LABELLED.fullmatch(line)
    label = _section(said["label"].strip(), barred=False) if said else None
    if said is None or label is None:
        return []
    text, times = said["chords"], label[1]
    if told := re.search(r"\s\(?(?:[x×]\s?(\d{1,2})|(\d{1,2})\s?[x×])\)?\s*$", text):
        text, times = text[: told.start()], int(told[1] or told[2])
    chords = _chords(re.sub(r"\s[-–—,>]+\s|,", " ", text), rules, barred)
    return [Line(number, "section", line, label[0], times), Line(number, "chords", chords)] if chords else []


def is_number(word: str) -> bool:
    """Return whether a word is a chord by its degree: 6-, 5/7, ii7."""
    try:
        return is_chord(symbol_of_number(word, "C"))
    except SymbolError:
        return False


def _line(number: int, line: str, head: Head, barred: bool, rules: HouseRules) -> Line:
    if not line:
        return Line(number, "blank", "")
    plain = _DECORATION.sub("", line)
    if plain != line and (section := _section(plain, barred=False)):
        return Line(number, "section", line, *section)
    if line.startswith("#"):
        return Line(number, "words", line)
    if inside := _BRACES.fullmatch(line):
        return _line(number, inside["inside"].strip(), head, barred, rules)
    if "|" in line:
        return Line(number, "bars", line)
    if chords := _chords(line, rules, barred):
        return Line(number, "chords", chords)
    if section := _section(line, barred):
        return Line(number, "section", line, section[0], section[1])
    if (said := _REMARKED.fullmatch(line)) and (section := _section(said["name"].strip(), barred)):
        return Line(number, "section", line, section[0], section[1], said["remark"].strip())
    if (facts := TITLED.fullmatch(line)) and not head.title and take_facts(facts, head):
        return Line(number, "head", line)
    if take_fields(line, head) or take_tempo_word(line, head):
        turns = tuple(head.turns)
        head.turns.clear()
        return Line(number, "head", line, turns=turns)
    if not barred and _degrees(line):
        return Line(number, "chords", " ".join(line.replace(" - ", " ").split()))
    if inline := [word for word in _INLINE.findall(line) if is_chord(word, rules)]:
        return Line(number, "chords", " ".join(inline))
    return Line(number, "words", line)


def _chords(line: str, rules: HouseRules, barred: bool) -> str:
    """Return the chords of a line that has nothing else, a figure in front aside, or ""."""
    line = re.sub(r"^[(\[]?\d{1,3}[)\].:]+\s+", "", line)
    words = [word.strip("()[],") for word in line.split()]
    chords = [word for word in words if word and word not in ("-", "/", "%", "*", "–", "—")]
    if barred and len(chords) == 1 and re.fullmatch(r"[A-G]", chords[0]):
        return ""
    times = re.compile(r"[x×]\d{1,2}|\d{1,2}[x×]")
    chords = [word for word in chords if not times.fullmatch(word)]
    return " ".join(chords) if chords and all(is_chord(word, rules) for word in chords) else ""


def _degrees(line: str) -> bool:
    """Return whether a line has nothing but three or more chords by their degrees."""
    words = [word for word in line.split() if word not in ("-", "–")]
    return len(words) >= 3 and all(is_number(word) for word in words)


def section_label(text: str) -> tuple[str, int] | None:
    """Return (name, times) of a section's name before its bars."""
    return _section(text.strip(), barred=True)


def _section(line: str, barred: bool) -> tuple[str, int] | None:
    patterns = (_NAMED, _BRACKETED, _LETTER) if barred else (_NAMED, _BRACKETED)
    found = next((match for pattern in patterns if (match := pattern.fullmatch(line))), None)
    if found is None:
        return None
    name = " ".join(found["name"].split()).strip(" :")
    said = found.groupdict()
    times = int(said.get("times") or said.get("timed") or 1)
    return (name if name.isupper() and len(name) <= 2 else name.capitalize() if name.isupper() else name, times)


def _is_heading(text: str) -> bool:
    return _section(text.strip(), barred=False) is not None
