"""What each line of pasted text is: a heading, a section's name, bars, chords over words, or words.

Names of sections and signs are the trade's (common practice); a heading may stand in braces, {title: ...}, and a chord
in square brackets inside the words, [C].
"""

import re
from dataclasses import dataclass, field

from engine.chord.house_rules import DEFAULT_RULES, HouseRules
from engine.chord.numbers import symbol_of_number
from engine.chord.symbol import read_symbol
from engine.errors import SymbolError
from engine.song.header import COUNTS
from engine.theory.key import read_key
from engine.theory.meter import meter as read_meter

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
_LETTER = re.compile(r"(?P<name>[A-Z]\d?)\s*[:.)]?")
_REMARKED = re.compile(r"(?P<name>[^()|]+?)\s*:?\s*\((?P<remark>[^()|]{2,60})\)\s*:?")
_DIRECTIVE = re.compile(r"\{\s*(?P<name>[a-z_]+)\s*(?::\s*(?P<value>[^}]*))?\}", re.IGNORECASE)
_KEY = re.compile(
    r"\b[Kk][Ee][Yy](?:\s*[:=]\s*|\s+(?:[Oo][Ff]\s+)?)(?P<value>[A-G][#♯b♭]?(?:\s?-|\s*(?:minor|min|major|maj|m))?)(?![A-Za-z#])"
)
_FIELD = re.compile(
    r"\b(?P<name>title|tempo|bpm|meter|time|feel|count|pickup|artist|composer|bass|guitar)\s*[:=]\s*"
    r"(?P<value>[^;|\s][^;|]*?)(?=\s{2,}|[;|]|,\s*\w+\s*[:=]|\s+\w+\s*[:=]|$)",
    re.IGNORECASE,
)
_PLAIN_TEMPO = re.compile(r"(?:\btempo\s+|[♩q]\s*=\s*)(?P<value>\d{2,3}(?:\.\d)?)(?![\w/.])", re.IGNORECASE)
_BPM = re.compile(r"(?<![\w/])(?P<value>\d{2,3}(?:\.\d)?)\s*bpm\b", re.IGNORECASE)
_CAPO = re.compile(
    r"\b[ck]apo(?:daster)?\b[^\d|;,]{0,20}(?P<value>\d{1,2})(?:st|nd|rd|th)?\b(?:\s*fret\b)?", re.IGNORECASE
)
_TITLED = re.compile(r"(?P<title>[^()|\[\]]{2,60}?)\s*\((?P<facts>[^()|]{2,60})\)")
_IN_KEY = re.compile(r"\bin\s+(?P<value>[A-G][#♯b♭]?m?)(?![\w#])")
_LAST_KEY = re.compile(r"[-–—,;]\s+(?P<value>[A-G][#♯b♭]?m?)\s*$")
_LABELLED = re.compile(r"(?P<label>[^:|\[\]]{1,30}|\[[^\]|]{1,30}\])\s*:?\s+(?P<chords>\S.*)")
_METER = re.compile(r"(?<![\w/])(?P<value>\d{1,2}/(?:1|2|4|8|16))(?![\w/])")
_TEMPO = re.compile(r"(?<![\w/])(?P<value>\d{2,3}(?:\.\d)?)(?![\w/.])")
_INLINE = re.compile(r"\[([^\]\[\s]{1,20})\]")
_STARTS = {"soc": "Chorus", "start_of_chorus": "Chorus", "sov": "Verse", "start_of_verse": "Verse",
           "sob": "Bridge", "start_of_bridge": "Bridge"}  # fmt: skip


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


@dataclass(slots=True)
class Head:
    """What the headings say; "" or 0 where they do not; `turns` what the line now read says once more."""

    title: str = ""
    key: str = ""
    meter: str = ""
    tempo: float = 0.0
    feel: str = ""
    count: str = ""
    capo: int = 0
    other: list[str] = field(default_factory=list)
    turns: list[tuple[str, str]] = field(default_factory=list)


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
    for number, raw in enumerate(text.splitlines(), 1):
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
    if line.startswith("#"):
        return Line(number, "words", line)
    if directive := _DIRECTIVE.fullmatch(line):
        return _directive(number, directive["name"].lower(), (directive["value"] or "").strip(), head)
    if "|" in line:
        return Line(number, "bars", line)
    if chords := _chords(line, rules, barred):
        return Line(number, "chords", chords)
    if section := _section(line, barred):
        return Line(number, "section", line, section[0], section[1])
    if (said := _REMARKED.fullmatch(line)) and (section := _section(said["name"].strip(), barred)):
        return Line(number, "section", line, section[0], section[1], said["remark"].strip())
    if (facts := _TITLED.fullmatch(line)) and not head.title and _facts(facts, head):
        return Line(number, "head", line)
    if _fields(line, head):
        turns = tuple(head.turns)
        head.turns.clear()
        return Line(number, "head", line, turns=turns)
    if not barred and _degrees(line):
        return Line(number, "chords", " ".join(line.replace(" - ", " ").split()))
    if inline := [word for word in _INLINE.findall(line) if is_chord(word, rules)]:
        return Line(number, "chords", " ".join(inline))
    return Line(number, "words", line)


def _facts(found: re.Match[str], head: Head) -> bool:
    """Take what stands in brackets behind a title: (in Dm, about 66), (med. swing, 120)."""
    facts = found["facts"]
    key, tempo = _IN_KEY.search(facts) or _KEY.search(facts), _TEMPO.search(facts)
    swing = re.search(r"\b(?:swing|shuffle)\b", facts, re.IGNORECASE)
    if not (key or tempo or swing):
        return False
    head.title = found["title"].strip()
    for name, value in (("key", key and key["value"]), ("tempo", tempo and tempo["value"])):
        if value:
            _set(head, name, value)
    head.feel = head.feel or ("swing" if swing else "")
    rest = facts
    for one in (key, tempo, swing):
        rest = rest.replace(one[0], "") if one else rest
    if rest := re.sub(r"\b(?:about|ca|around)\b\.?", "", rest).strip(" ,;."):
        head.other.append(rest)
    return True


def _directive(number: int, name: str, value: str, head: Head) -> Line:
    if name in _STARTS:
        return Line(number, "section", value, value or _STARTS[name])
    if name in ("comment", "c") and _section(value, barred=False):
        return Line(number, "section", value, value)
    _set(head, {"t": "title", "time": "meter"}.get(name, name), value)
    return Line(number, "head", value)


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


def _fields(line: str, head: Head) -> bool:
    """Read key: Eb, 4/4, 112 swing ... out of a heading; what stands before the first is the title."""
    marks: list[int] = []
    rest = line

    def taken(pattern: re.Pattern[str], name: str = "") -> None:
        """Set what the pattern finds, and blank it out."""
        nonlocal rest
        for match in pattern.finditer(rest):
            marks.append(match.start())
            _set(head, name or match["name"].lower(), match["value"].strip())
            rest = rest[: match.start()] + " " * len(match[0]) + rest[match.end() :]

    taken(_KEY, "key")
    if not head.key and (_BPM.search(rest) or _METER.search(rest)):
        taken(_LAST_KEY, "key")
    taken(_FIELD)
    taken(_PLAIN_TEMPO, "tempo")
    taken(_BPM, "tempo")
    taken(_CAPO, "capo")
    taken(_METER, "meter")
    if marks:
        taken(_TEMPO, "tempo")
        head.feel = head.feel or ("swing" if re.search(r"\bswing\b", rest, re.IGNORECASE) else "")
        rest = re.sub(r"\b(?:swing|straight|bpm)\b", "", rest, flags=re.IGNORECASE)
        title, remark = rest[: min(marks)].strip(" -,;"), " ".join(rest[min(marks) :].split()).strip(" -,;.")
        head.title = head.title or re.sub(r"^\d{1,3}[.)]\s*", "", title)
        head.other += [remark] if remark else []
    return bool(marks)


def _key(value: str) -> str:
    found = re.fullmatch(r"([A-G][#♯b♭]?)\s*(-|minor|min|m|major|maj)?", value)
    if not found:
        raise ValueError(value)
    return str(read_key(found[1] + ("m" if found[2] in ("-", "minor", "min", "m") else "")))


def _set(head: Head, name: str, value: str) -> None:
    """Take one heading; what cannot be read is kept as a remark."""
    try:
        if name == "title":
            head.title = head.title or value
        elif name == "key":
            key = _key(value)
            head.turns += [("key", key)] if head.key else []
            head.key = head.key or key
        elif name in ("meter", "time"):
            meter = str(read_meter(value))
            head.turns += [("meter", meter)] if head.meter else []
            head.meter = head.meter or meter
        elif name in ("tempo", "bpm"):
            digits = re.search(r"\d{2,3}(?:\.\d)?", value)
            head.tempo = head.tempo or (float(digits[0]) if digits else 0.0)
            head.feel = head.feel or ("swing" if "swing" in value.lower() else "")
        elif name == "feel":
            head.feel = "swing" if "swing" in value.lower() or "shuffle" in value.lower() else "straight"
        elif name == "count":
            head.count = value.lower() if value.lower() in COUNTS else ""
        elif name == "capo":
            head.capo = int(re.sub(r"\D", "", value)[:2] or 0) % 12
        elif name != "pickup" and value:
            # A pickup is seen in the bars themselves.
            head.other.append(f"{name}: {value}")
    except ValueError:
        head.other.append(f"{name}: {value}")
