"""The form of a pasted chart: its sections, each once, and the order that names, times, D.S. and To Coda give them."""

import re
from dataclasses import dataclass, field, replace

from engine.formats.chart_text.bar_numbers import Counting
from engine.formats.musicxml_in.directions import JUMPS, TO_CODA
from engine.formats.musicxml_in.measure import Measure
from engine.formats.musicxml_in.playing_order import playing_order
from engine.theory.key import Key
from engine.theory.meter import Meter
from engine.theory.pitch import NoteName

_WAYS = {
    "jump": tuple(JUMPS.items()),
    "to_coda": (("coda", TO_CODA),),
    "fine": (("fine", r"(?<!al )\bfine\b"),),
    "segno": (("segno", r"\bsegno\b(?<!dal segno)|^sign\b"),),
    "until": (("cue", r"\b(?:till|until)\b.*|\bon cue\b"),),
}


@dataclass(slots=True)
class Part:
    """A section while it is gathered: lines of bars with the line they came from, the ways in and out.

    `turns` is the key or meter of its own."""

    name: str
    times: int = 1
    bars: list[tuple[int, str]] = field(default_factory=list)
    cue: str = ""
    ways: dict[str, str] = field(default_factory=dict)
    pickup: bool = False
    turns: dict[str, str] = field(default_factory=dict)
    counting: Counting = field(default_factory=Counting)


def take_ways(part: Part, words: str) -> bool:
    """Note To Coda, D.S. and the like; False when the words say nothing of the form."""
    taken = False
    for way, forms in _WAYS.items():
        for value, form in forms:
            if re.search(form, words, re.IGNORECASE):
                part.ways[way] = value
                taken = True
    return taken


def form_of(parts: list[Part], doubts: list[str]) -> tuple[list[Part], list[str]]:
    """Return the sections to be written, each once, and the names as played; `doubts` grows."""
    written: dict[str, Part] = {}
    played: list[Part] = []
    for part in parts:
        if not part.bars:
            known = written.get(part.name.lower())
            if known:
                doubts += [f"{known.name} is played as it was, without {turn}" for turn in _other(part, known)]
                played.append(replace(known, times=part.times, ways=part.ways))
            else:
                doubts.append(f"{part.name} has no bars and was left out")
            continue
        part.name = _fresh(part, written)
        if known := written.get(part.name.lower()):
            doubts += [f"{known.name} is played as it was, without {turn}" for turn in _other(part, known)]
        written.setdefault(part.name.lower(), part)
        played.append(part)
    order = _order(played, doubts)
    return list(written.values()), order


def _other(part: Part, known: Part) -> list[str]:
    """Return what is said of a section this time and not where it is written."""
    cue = [f"the words {part.cue!r}"] if part.cue not in ("", known.cue) else []
    return cue + [f"{way} {value}" for way, value in part.turns.items() if known.turns.get(way) != value]


def _fresh(part: Part, written: dict[str, Part]) -> str:
    """Return the part's name, or one with a number where other bars have it already."""
    name, number = part.name, 1
    while (other := written.get(name.lower())) and [bars for _, bars in other.bars] != [bars for _, bars in part.bars]:
        number += 1
        name = f"{part.name} {number}"
    return name


def _order(played: list[Part], doubts: list[str]) -> list[str]:
    home = Key(NoteName(0))
    places = []
    for part in played:
        place = Measure(part.name, Meter(4, 4), home)
        place.segno, place.to_coda = part.ways.get("segno", ""), part.ways.get("to_coda", "")
        place.fine, place.jump = "fine" in part.ways, part.ways.get("jump", "")
        place.coda = "coda" if part.name.lower().startswith("coda") else ""
        places.append(place)
    order, more = playing_order(places, [])
    doubts += [re.sub(r"^measure ", "after ", doubt) for doubt in more]
    return [played[at].name for at in order for _ in range(played[at].times)]
