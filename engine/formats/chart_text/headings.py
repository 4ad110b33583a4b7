"""What the headings of pasted text say: title, key, meter, tempo, feel, count, capo. The forms are common practice."""

import re
from dataclasses import dataclass, field

from engine.song.header import COUNTS
from engine.theory.key import read_key
from engine.theory.meter import meter as read_meter

_KEY = re.compile(
    r"\b[Kk][Ee][Yy](?:\s*[:=]\s*|\s+(?:[Oo][Ff]\s+)?)"
    r"(?P<value>[A-G](?:[#♯b♭]|[ -]?(?:flat|sharp)\b)?(?:\s?-|\s*(?:minor|min|major|maj|m))?)(?![A-Za-z#])"
)
_FIELD = re.compile(
    r"\b(?P<name>title|tempo|bpm|meter|time|feel|count|pickup|artist|composer|bass|guitar)\s*[:=]\s*"
    r"(?P<value>[^;|\s][^;|]*?)(?=\s{2,}|[;|]|,\s*\w+\s*[:=]|\s+\w+\s*[:=]|$)",
    re.IGNORECASE,
)
_PLAIN_TEMPO = re.compile(r"(?:\btempo\s+|[♩q]\s*=\s*)(?P<value>\d{2,3}(?:\.\d)?)(?![\w/.])", re.IGNORECASE)
_BPM = re.compile(r"(?<![\w/])(?P<value>\d{2,3}(?:\.\d)?)\s*bpm\b", re.IGNORECASE)
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh")
_ROMANS = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI")
_CAPO = re.compile(
    rf"\b[ck]apo(?:daster)?\b[^\d|;,]{{0,20}}?(?P<value>\d{{1,2}}(?:st|nd|rd|th)?|[IVX]{{1,4}}|{'|'.join(_ORDINALS)})\b"
    r"(?:\s*fret\b)?",
    re.IGNORECASE,
)
_TEMPO_WORD = re.compile(
    r"(?:grave|largo|lento|adagio|andante|andantino|moderato|allegretto|allegro|vivace|presto|slow|slowly|fast|medium|"
    r"med|up|bright|ballad|waltz|swing|rock|shuffle|bossa|freely|rubato|tempo|very|quite|not too|with|and|feel|[ .,])+",
    re.IGNORECASE,
)
"""Words that say how fast and in which manner. Source: common practice of scores."""
TITLED = re.compile(r"(?P<title>[^()|\[\]]{2,60}?)\s*\((?P<facts>[^()|]{2,60})\)")
_IN_KEY = re.compile(r"\bin\s+(?P<value>[A-G][#♯b♭]?m?)(?![\w#])")
_LAST_KEY = re.compile(r"[-–—,;]\s+(?P<value>[A-G][#♯b♭]?m?)\s*$")
_METER = re.compile(r"(?<![\w/])(?P<value>\d{1,2}/(?:1|2|4|8|16))(?![\w/])")
_TEMPO = re.compile(r"(?<![\w/])(?P<value>\d{2,3}(?:\.\d)?)(?![\w/.])")


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


def take_facts(found: re.Match[str], head: Head) -> bool:
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


def take_fields(line: str, head: Head) -> bool:
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
        title, remark = rest[: min(marks)].strip(" -,;()"), " ".join(rest[min(marks) :].split()).strip(" -,;.()")
        title = re.sub(r"^\d{1,3}[.)]\s*", "", title).removesuffix(" in the").removesuffix(",")
        if head.title:
            head.other += [title] if title else []
        head.title = head.title or title
        head.other += [remark] if remark else []
    return bool(marks)


def _key(value: str) -> str:
    value = re.sub(r"[ -]?(flat|sharp)\b", lambda found: {"flat": "b", "sharp": "#"}[found[1].lower()], value)
    found = re.fullmatch(r"([A-G][#♯b♭]?)\s*(-|minor|min|m|major|maj)?", value)
    if not found:
        raise ValueError(value)
    return str(read_key(found[1] + ("m" if found[2] in ("-", "minor", "min", "m") else "")))


def take_tempo_word(line: str, head: Head) -> bool:
    """Take a line of words that say a tempo or a manner and no figure; they are kept as a remark."""
    if not _TEMPO_WORD.fullmatch(line) or not line.strip(" .,"):
        return False
    head.feel = head.feel or ("swing" if re.search("swing|shuffle", line, re.IGNORECASE) else "")
    head.other.append(line)
    return True


def _set(head: Head, name: str, value: str) -> None:
    """Take one heading; what cannot be read, or is said once more, is kept as a remark."""
    try:
        if name == "key":
            key = _key(value)
            head.turns += [("key", key)] if head.key else []
            head.key = head.key or key
        elif name in ("meter", "time"):
            meter = str(read_meter(value))
            head.turns += [("meter", meter)] if head.meter else []
            head.meter = head.meter or meter
        elif name in ("tempo", "bpm"):
            _set_tempo(head, value)
        elif name == "feel" and not head.feel:
            head.feel = "swing" if re.search("swing|shuffle", value, re.IGNORECASE) else "straight"
            head.other += [] if value.lower() in ("swing", "shuffle", "straight") else [f"feel: {value}"]
        elif name == "count" and value.lower() in COUNTS and not head.count:
            head.count = value.lower()
        elif name == "capo" and not head.capo:
            head.capo = _fret(value)
        elif name == "title" and not head.title:
            head.title = value
        elif name != "pickup" and value:
            # A pickup is seen in the bars themselves.
            head.other.append(f"{name}: {value}")
    except ValueError:
        head.other.append(f"{name}: {value}")


def _set_tempo(head: Head, value: str) -> None:
    """Take the figure of a tempo; words round it are kept as a remark."""
    digits = re.search(r"\d{2,3}(?:\.\d)?", value)
    figure = float(digits[0]) if digits else 0.0
    words = value.replace(digits[0], "") if digits else value
    words = re.sub(r"\b(?:about|ca|around|bpm|swing)\b\.?", "", words, flags=re.IGNORECASE).strip(" ,;.=♩()")
    if words or (head.tempo and figure not in (0.0, head.tempo)):
        head.other.append(f"tempo: {value}")
    head.tempo = head.tempo or figure
    head.feel = head.feel or ("swing" if "swing" in value.lower() else "")


def _fret(value: str) -> int:
    """Return the fret of a capo: 3, 3rd, III, third."""
    if digits := re.match(r"\d{1,2}", value):
        return int(digits[0]) % 12
    words = value.lower()
    return _ORDINALS.index(words) + 1 if words in _ORDINALS else (_ROMANS.index(value.upper()) + 1) % 12
