"""Pasted text made regular line by line before it is read: quoted mail, tables, slashes, times, German headings.

The lines keep their numbers. Whatever is left out is a doubt that quotes it. The habits are common practice.
"""

import re
from collections.abc import Callable

from engine.chord.house_rules import HouseRules
from engine.errors import SymbolError
from engine.formats.chart_text.lines import is_chord, section_label
from engine.song.chord_names import Wording, reader_of
from engine.theory.key import Key, sensible

QUOTED = 40
"""Characters of a line that a doubt quotes (own choice)."""

_QUOTE = re.compile(r"^\s*(?:>\s?)+")
_TIMES = r"\(?\s*(?:[x×]\s?(?P<after>\d{1,2})|(?P<before>\d{1,2})\s?(?:[x×]|times))\s*\)?"
_BARS_TIMES = re.compile(rf"^(?P<bars>.*\|)\s*{_TIMES}\s*$", re.IGNORECASE)
_NO_CHORD = re.compile(r"\(?\bno chord\b\)?", re.IGNORECASE)
_SLASHES = re.compile(r"(?<=[^\s/|:])(/{2,}|/(?=\s|\||$))")
_TAB_STRING = re.compile(r"^\s*[A-Ga-gHh]?[#b]?\s*[|:]?[-–0-9hpbrstx/\\~^().|\s]*[-–]{3,}[-–0-9hpbrstx/\\~^().|\s]*$")
_METER_CELL = re.compile(r"^\s*(?P<meter>\d{1,2}/(?:2|4|8|16))\s+(?=\S)")
_HEADINGS = {
    "titel": "title", "tonart": "key", "takt": "meter", "taktart": "meter", "bpm": "tempo", "kapo": "capo",
    "kapodaster": "capo",
}  # fmt: skip
"""German headings -> ours."""
_HEADING = re.compile(rf"^\s*(?P<name>{'|'.join(_HEADINGS)})\s*[:=]\s*(?P<value>.+)$", re.IGNORECASE)
_GERMAN_KEY = re.compile(r"(?P<tonic>[A-Ha-h](?:is|es|s)?)[\s-]*(?P<mode>dur|moll)?\b", re.IGNORECASE)


def tidied(text: str) -> tuple[str, list[str]]:
    """Return the text with the same number of lines, made regular, and the doubts about it."""
    doubts: list[str] = []
    lines = _unquoted(text.split("\n"), doubts)
    meter = ""
    for at, line in enumerate(lines):
        told: Callable[[str], None] = lambda remark, number=at + 1: doubts.append(f"line {number}: {remark}")  # type: ignore[misc]  # noqa: E731
        if _TAB_STRING.fullmatch(line) and re.search(r"[-–]{3}", line):
            told(f"tablature was passed over: {line.strip()[:QUOTED]!r}")
            lines[at] = ""
            continue
        line = _tabled(_heading(line))
        if "|" in line:
            line, meter = _metered(_NO_CHORD.sub("N.C.", line), meter)
            line = _SLASHES.sub(lambda found: " /" * len(found[1]) + " ", line)
            line = _timed(line, told)
        lines[at] = line
    return "\n".join(lines), doubts


def _unquoted(lines: list[str], doubts: list[str]) -> list[str]:
    """Return lines without the marks of quoted mail; what stands around a quoted chart is left out."""
    quoted = [bool(_QUOTE.match(line)) for line in lines]
    if sum(quoted) < 2:
        return lines
    chart_is_quoted = any(mark and "|" in line for mark, line in zip(quoted, lines, strict=True))
    around = chart_is_quoted and not any("|" in line for mark, line in zip(quoted, lines, strict=True) if not mark)
    out: list[str] = []
    for number, (mark, line) in enumerate(zip(quoted, lines, strict=True), 1):
        if not mark and around:
            if line.strip():
                doubts.append(f"line {number}: outside the quoted chart, left out: {line.strip()[:QUOTED]!r}")
            out.append("")
        else:
            out.append(_QUOTE.sub("", line))
    return out


def _heading(line: str) -> str:
    """Return a German heading as ours: Tonart: h-Moll is key: Bm."""
    found = _HEADING.match(line)
    if not found:
        return line
    name, value = _HEADINGS[found["name"].lower()], found["value"].strip()
    if name == "key" and (key := _german_key(value)):
        value = key
    return f"{name}: {value}"


def _german_key(value: str) -> str:
    found = _GERMAN_KEY.match(value)
    if not found:
        return ""
    minor = (found["mode"] or "").lower() == "moll" or (not found["mode"] and found["tonic"][0].islower())
    tonic = found["tonic"][0].upper() + found["tonic"][1:].lower()
    try:
        _, chord = reader_of(Wording(HouseRules(names="german")))(tonic)
    except SymbolError:
        return ""
    return str(sensible(Key(chord.root, minor))) if chord else ""


def _tabled(line: str) -> str:
    """Return a row of a table, parted by tabs, as bars: a name or nothing, then one cell a bar."""
    cells = [cell.strip() for cell in line.rstrip().split("\t")]
    if "|" in line or len(cells) < 3 or not all(_plays(cell) for cell in cells[1:] if cell) or not any(cells[1:]):
        return line
    if cells[0] and not (section_label(cells[0]) or _plays(cells[0])):
        return line
    bars = [cell for cell in cells[1:] if cell]
    if cells[0] and not section_label(cells[0]):
        return f"| {' | '.join([cells[0], *bars])} |"
    return f"{cells[0]} | {' | '.join(bars)} |".strip()


def _plays(cell: str) -> bool:
    return all(is_chord(word) for word in cell.split())


def _metered(line: str, meter: str) -> tuple[str, str]:
    """Return a line with the meter that stands bare inside a bar in brackets, in each bar for which it holds."""
    head, *cells = line.split("|")
    if head.strip() and not re.fullmatch(r"[\s:]*", head):
        meter = ""
    for at, cell in enumerate(cells):
        if found := _METER_CELL.match(cell):
            meter, cell = found["meter"], cell[found.end() :]
            cells[at] = f" ({meter}) {cell}"
        elif meter and cell.strip(" :|"):
            cells[at] = f" ({meter}) {cell.lstrip()}"
    return "|".join([head, *cells]), meter


def _timed(line: str, told: Callable[[str], None]) -> str:
    """Return a line that says how often it is played with repeat signs around it."""
    found = _BARS_TIMES.match(line)
    if not found or re.search(r":\||\|:", line):
        return line
    times = int(found["after"] or found["before"])
    if times < 2:
        return line
    head, bars = found["bars"].split("|", 1)
    told(f"{line[found.end('bars') :].strip()} read as this line {times} times")
    more = f" x{times}" if times > 2 else ""
    return f"{head}||: {bars.strip().rstrip('|').strip()} :||{more}"
