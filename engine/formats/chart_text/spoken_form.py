"""A form in words: "Form: Intro A A B A", "Repeat Verse", "Chorus twice", "Solo over verse". Common practice."""

import re
from collections.abc import Sequence

from engine.song.roadmap import MOST_TIMES

_FORM = re.compile(r"^(?:form|structure|roadmap|arrangement|order|ablauf)\s*[:=]\s*(?P<order>.+)$", re.IGNORECASE)
_COUNTS = {"once": 1, "twice": 2, "three times": 3, "four times": 4, "again": 1}
_TIMES = re.compile(
    rf"\s*\(?\s*(?:[x×]\s?(?P<after>\d{{1,2}})|(?P<before>\d{{1,2}})\s?(?:[x×]|times)|(?P<word>{'|'.join(_COUNTS)}))\s*\)?",
    re.IGNORECASE,
)
_AGAIN = re.compile(r"^(?:repeat|again)\s*:?\s+(?:the\s+)?(?P<name>.+)$", re.IGNORECASE)
_OVER = re.compile(r"^(?P<who>[\w ]{0,20}solos?)\s+(?:over|on)\s+(?:the\s+)?(?P<name>.+)$", re.IGNORECASE)


def form_line(words: str) -> str:
    """Return what follows "Form:" in a line of words, "" where it is none."""
    found = _FORM.match(words.strip())
    return found["order"].strip() if found else ""


def played_again(words: str, names: Sequence[str]) -> tuple[str, int] | None:
    """Return the section that a line of words asks for again and how often, as "Repeat Verse" or "Chorus twice"."""
    line = words.strip(" .-–[]()*")
    asked = _OVER.match(line) or _AGAIN.match(line)
    rest = asked["name"] if asked else line
    found = _one(rest, names)
    if found is None or (rest := rest[found[2] :].strip(" .")):
        return None
    return found[:2] if asked or found[1] or _ends_with_count(line) else None


def order_of(order: str, names: Sequence[str]) -> tuple[list[str], str]:
    """Return the names that are played in an order told in words, and what could not be read of it."""
    played: list[str] = []
    rest = order.strip()
    while rest:
        found = _one(rest, names)
        if found is None:
            break
        played += [found[0]] * max(1, found[1])
        rest = rest[found[2] :].lstrip(" ,-–—>|/+.→;")
    return played, rest


def _one(text: str, names: Sequence[str]) -> tuple[str, int, int] | None:
    """Return (name, times or 0, characters) of the section that a text begins with; the longest name wins."""
    for name in sorted(names, key=len, reverse=True):
        if text.lower().startswith(name.lower()) and not text[len(name) : len(name) + 1].isalnum():
            times = _TIMES.match(text, len(name))
            if not times:
                return name, 0, len(name)
            told = times["after"] or times["before"]
            count = int(told) if told else _COUNTS[times["word"].lower()]
            return name, max(1, min(MOST_TIMES, count)), times.end()
    return None


def _ends_with_count(line: str) -> bool:
    return any(line.lower().endswith(word) for word in _COUNTS)
