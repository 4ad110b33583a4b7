"""The roadmap of a song as a page shows it: sections in order, how often, how many bars, how it begins and ends."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from engine.song.length import played_bars
from engine.song.model import Section, Song, Step
from engine.theory.meter import Meter


@dataclass(frozen=True, slots=True)
class Leg:
    """A section played `times` times running, `bars` bars each time as played (the same every time)."""

    name: str
    times: int
    bars: int


def legs(steps: Iterable[Step]) -> tuple[Leg, ...]:
    """Return the legs of a song's roadmap from its steps as played."""
    passes = [(name, played_bars(tuple(part))) for name, part in _passes(steps)]
    return tuple(Leg(name, len(list(same)), bars) for (name, bars), same in groupby(passes))


def _passes(steps: Iterable[Step]) -> list[tuple[str, list[Step]]]:
    found: list[tuple[str, list[Step]]] = []
    for step in steps:
        if step.section_start or not found:
            found.append((step.section, []))
        found[-1][1].append(step)
    return found


def played_sections(song: Song) -> tuple[Section, ...]:
    """Return the sections that the roadmap plays, in the order they are first met."""
    sections = {section.name: section for section in song.sections}
    return tuple(sections[name] for name in dict.fromkeys(song.roadmap))


def told_meters(sections: Sequence[Section], meter: Meter) -> tuple[tuple[str, ...], ...]:
    """Return for each bar of sections that are printed one below the other the meter that is to be told, "" where it
    goes on. `meter` is the song's: a section that begins in another one says so each time."""
    before, told = meter, []
    for section in sections:
        words = []
        for number, bar in enumerate(section.bars):
            other = bar.meter != before or (not number and bar.meter != meter)
            words.append(str(bar.meter) if other else "")
            before = bar.meter
        told.append(tuple(words))
    return tuple(told)


def beginning(song: Song) -> str:
    """Return how the song starts: `Intro (piano alone): Abmaj7`; "" for a song without steps."""
    return _words(song, last=False)


def ending(song: Song) -> str:
    """Return how the song ends: `Tag (three times in all): Ebmaj9, hold`."""
    return _words(song, last=True)


def _words(song: Song, last: bool) -> str:
    sections = {section.name: section for section in song.sections}
    if not song.roadmap:
        return ""
    section = sections[song.roadmap[-1 if last else 0]]
    bars = [bar for bar in section.bars if bar.events]
    if not bars:
        return section.name
    event = bars[-1].events[-1] if last else bars[0].events[0]
    cue = f" ({section.cue})" if section.cue else ""
    until = f", till {section.until}" if last and section.until else ""
    mark = f", {event.mark}" if event.mark else ""
    return f"{section.name}{cue}: {event.symbol}{mark}{until}"


def pickup_words(section: Section) -> str:
    """Return how long a section's pickup is: `pickup 1 beat`."""
    return f"pickup {section.pickup} beat{'' if section.pickup == 1 else 's'}"


def bar_words(section: str, bar: int) -> str:
    """Return a place in words: `Verse, bar 3`, or `Verse, pickup` before its first bar."""
    return f"{section}, bar {bar}" if bar else f"{section}, pickup"
