"""The head of an ABC tune: title, key, meter, unit length, tempo and the order of its parts.

Source: the ABC music standard 2.1 (2011), section 3.1.
"""

import re
from dataclasses import dataclass
from fractions import Fraction

from engine.formats.import_result import NotImported
from engine.song.abc_fields import AbcKey, read_abc_key, read_unit
from engine.song.section_tempo import FASTEST, SLOWEST
from engine.theory.meter import Meter
from engine.theory.meter import meter as read_meter

USUAL_TEMPO = 120.0
"""Beats a minute where no tempo is written (own choice)."""
_COMMON = {"C": "4/4", "C|": "2/2"}


@dataclass(frozen=True, slots=True)
class AbcHead:
    """What stands before the notes. `order`: the parts as played; `body`: the notes, which begin in `first_line`."""

    title: str
    key: AbcKey
    meter: Meter
    unit: Fraction | None
    tempo: float
    order: str
    body: str
    first_line: int
    doubts: tuple[str, ...]


def read_abc_head(text: str) -> AbcHead:
    """Read the head of the first tune.

    Raises:
        NotImported: there is no tune.
    """
    lines = text.split("\n")
    begin = next((at for at, line in enumerate(lines) if re.match(r"X:", line)), 0)
    close = next((at for at in range(begin, len(lines)) if lines[at].startswith("K:")), None)
    if close is None:
        raise NotImported("this tune has no key", "write K: with its key before the notes")
    fields: dict[str, str] = {}
    for line in lines[begin : close + 1]:
        if re.match(r"[A-Za-z]:", line):
            fields.setdefault(line[0], line[2:].partition("%")[0].strip())
    doubts: list[str] = []
    end = next((at for at in range(close + 1, len(lines)) if lines[at].startswith("X:")), len(lines))
    if end < len(lines):
        doubts.append("the file holds several tunes, the first was taken")
    body = "\n".join(_first_voice(lines[close + 1 : end], doubts))
    meter = _meter(fields.get("M", "C"), doubts)
    key = _key(fields["K"], doubts)
    tempo = _tempo(fields.get("Q", ""), meter, doubts)
    return AbcHead(
        _printable(fields.get("T", "")), key, meter, _unit(fields.get("L", ""), doubts), tempo, fields.get("P", ""),
        body, close + 2, tuple(doubts),
    )  # fmt: skip


def _printable(text: str) -> str:
    return "".join(sign for sign in text if sign.isprintable())[:80]


def _first_voice(lines: list[str], doubts: list[str]) -> list[str]:
    """Return the lines with those of other voices than the first left empty."""
    first, now, kept = "", "", list[str]()
    for line in lines:
        found = re.match(r"(?:\[V:\s*([^\s\]]+)[^\]]*\]|V:\s*(\S+).*)", line)
        if found:
            now = found[1] or found[2]
            first = first or now
            line = " " * found.end() + line[found.end() :]
        kept.append(line if now == first else "")
    if first and any(kept[at] != line and line.strip() and not kept[at].strip() for at, line in enumerate(lines)):
        doubts.append(f"of several voices {first} was taken")
    return kept


def _meter(text: str, doubts: list[str]) -> Meter:
    try:
        return read_meter(_COMMON.get(text, text))
    except ValueError:
        doubts.append(f"the meter {text[:20] or 'none'} was taken for 4/4")
        return Meter(4, 4)


def _key(text: str, doubts: list[str]) -> AbcKey:
    try:
        key = read_abc_key(text)
    except ValueError:
        doubts.append(f"the key {text[:20]} was taken for C")
        return read_abc_key("C")
    usual = key.tonic.fifths - (3 if key.minor else 0)
    if key.signature != usual:
        doubts.append(f"the mode of {text[:20]} was taken for {key.tonic}{' minor' if key.minor else ' major'}")
    return key


def _unit(text: str, doubts: list[str]) -> Fraction | None:
    try:
        return read_unit(text) if text else None
    except ValueError:
        doubts.append(f"the unit length {text[:20]} was passed over")
        return None


def _tempo(text: str, meter: Meter, doubts: list[str]) -> float:
    """Return the tempo as a song counts it: quarters a minute, dotted quarters in compound meters."""
    plain = re.sub(r'"[^"]*"', "", text)
    found = re.search(r"((?:\d+/\d+\s*)+)=\s*(\d{1,4})", plain)
    alone = re.fullmatch(r"\s*(?:C=)?(\d{1,4})\s*", plain)
    if found:
        length = sum((Fraction(part) for part in found[1].split() if not part.endswith("/0")), Fraction(0)) * 4
        tempo = float(int(found[2]) * length / (Fraction(3, 2) if meter.compound else 1))
    elif alone:
        tempo = float(alone[1])
    else:
        doubts.append(f"no tempo is written, {USUAL_TEMPO:g} was taken")
        return USUAL_TEMPO
    if not SLOWEST <= tempo <= FASTEST:
        doubts.append(f"a tempo of {tempo:g} was taken for {USUAL_TEMPO:g}")
        return USUAL_TEMPO
    return tempo
