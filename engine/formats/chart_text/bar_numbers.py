"""Figures at the start of pasted lines and bars: bar numbers, which go, and endings, which get their sign.

`5 | C | F |`, `m. 5 | C |`, `|5 C |6 F |` count bars; `1. | G :||`, `2nd time | C |`, `|1 G :||2 C ||` are endings.
Own choice where both could be meant: a first ending stands in a repeat or after other bars of its section, the others
follow it; every other figure counts bars.
"""

import re
from dataclasses import dataclass, field
from itertools import pairwise

MOST_ENDINGS = 4
"""Endings that a figure may mean (own choice)."""

_LABEL = re.compile(
    r"\s*[(\[]?\s*(?:(?P<word>m{1,2}|meas(?:ures?)?|bars?)\b)?\.?\s*#?(?P<number>\d{1,3})(?P<th>st|nd|rd|th)?"
    r"(?:\s*[-–]\s*\d{1,3})?(?P<time>\s*(?:time|ending|x)\b)?\s*(?P<sign>[)\].:]*)\s*",
    re.IGNORECASE,
)
_CELL = re.compile(
    r"(?P<line>:?\|+:?)\s*(?P<number>\d{1,3})(?P<way>st|nd|rd|th|[.):])?(?P<time>\s+(?:time|ending)\b)?"
    r"(?=[\s|]|[A-GN%])[.:]?",
    re.IGNORECASE,
)


@dataclass(slots=True)
class Counting:
    """Where in its section a line stands: bars before it, a repeat open, the last ending, one still to be closed."""

    bars: bool = False
    open: bool = False
    ending: int = 0
    unclosed: bool = False
    told: list[str] = field(default_factory=list)

    def ends(self, number: int) -> bool:
        """Return whether a figure alone is the next ending."""
        first = self.open or self.bars
        return number == self.ending + 1 <= MOST_ENDINGS and (self.ending > 0 or first)

    def after(self, text: str) -> None:
        """Take note of a line that has been read."""
        self.bars = True
        opened, closed = text.rfind("|:"), text.rfind(":|")
        self.open = opened > closed or (self.open and closed < 0)
        self.unclosed = (self.unclosed or "[" in text) and closed < 0
        if opened > text.rfind("["):
            self.ending = 0


def uncounted(text: str, numbers: bool, place: Counting) -> str:
    """Return a line of bars without bar numbers and with endings as signs; what was taken so is said in `place.told`.

    In a chart of `numbers` a bare figure is a chord.
    """
    head = text[: text.index("|")].removesuffix(":")
    label = _LABEL.fullmatch(head) if head.strip() else re.match(r"\s*(?=\|)", text)
    bare = head.strip().isdigit()
    if label and head.strip() and not (numbers and bare):
        text = _labelled(text[len(head) :], label, place)
    return text if numbers else _cells(text, place)


def closing(bars: str) -> str:
    """Return the last line of an ending with the repeat sign that it lacks."""
    return f"{bars.rstrip(' |')} :||"


def _labelled(rest: str, label: re.Match[str], place: Counting) -> str:
    number = int(label["number"])
    ordinal = (label["th"] or label["time"]) and 1 <= number <= MOST_ENDINGS
    if ordinal or (not label["word"] and place.ends(number)):
        place.ending = number
        place.told.append(f"{label[0].strip()} read as ending {number}")
        return f"[{number}. {rest.removeprefix('|').lstrip()}"
    place.told.append("figures read as bar numbers")
    return rest


def _cells(text: str, place: Counting) -> str:
    """Take the figures at the start of bars."""
    found = list(_CELL.finditer(text))
    if not found:
        return text
    figures = [int(cell["number"]) for cell in found]
    inner = bool(re.search(r"[A-GN%]", text[: found[0].start()])) or place.bars
    ways = [cell["way"] or cell["time"] or "" for cell in found]
    repeated = ":|" in text or place.open or place.ending > 0
    named = any(way.lower() in ("st", "nd", "rd", "th") or "i" in way.lower() for way in ways)
    if named or ((place.ends(figures[0]) or (figures[0] == 1 and inner) or ways[0] == ".") and repeated):
        place.ending = min(figures[-1], MOST_ENDINGS)
        place.told.append("figures read as endings")
        return _CELL.sub(lambda cell: f"{cell['line']} [{cell['number']}. ", text)
    rising = all(after > before for before, after in pairwise(figures))
    if rising and (len(found) > 1 or ways[0]):
        place.told.append("figures read as bar numbers")
        return _CELL.sub(lambda cell: f"{cell['line']} ", text)
    return text
