"""What the stand changed for tonight, written into the set's own file and nowhere else.

Pure: the text goes in and comes out. The TOML writer is imported only when something has to be written, so that the
screens need not carry it; the planning process does this work for them.
"""

from collections import Counter
from dataclasses import dataclass

from engine.song.model import Pin, SetList


@dataclass(frozen=True, slots=True)
class Entry:
    """One song of the set as the file holds it: `nth` tells apart entries of the same file."""

    file: str
    nth: int
    key: str
    tempo: float
    note: str
    pins: tuple[Pin, ...]


Slots = tuple[Entry | None, ...]
"""The entries of the file in order; None for a song that could not be opened and is left where it stands."""


def entries(set_list: SetList) -> tuple[Entry, ...]:
    """Return the songs of a set as entries, in their order."""
    seen: Counter[str] = Counter()
    found = []
    for place in set_list.songs:
        song = place.song
        found.append(Entry(place.file, seen[place.file], song.key, song.tempo, song.note, song.pins))
        seen[place.file] += 1
    return tuple(found)


def slots(set_list: SetList) -> Slots:
    """Return the entries of a set as just read from its file, missing songs included; none for a song on its own."""
    if any(place.number < 1 for place in set_list.songs):
        return ()
    total = max([place.number for place in set_list.songs] + [len(set_list.songs) + len(set_list.missing)], default=0)
    found: list[Entry | None] = [None] * total
    for place, entry in zip(set_list.songs, entries(set_list), strict=True):
        found[place.number - 1] = entry
    return tuple(found)


def changed_text(text: str, before: Slots, after: tuple[Entry, ...]) -> tuple[str, Slots]:
    """Return the set file's text with the songs as in `after`, and its entries then.

    Raises:
        ChartError: the file has no such entries any more, since another program changed it.
    """
    now = list(before)
    text = _dropped(text, now, after)
    text = _added(text, now, after)
    text = _ordered(text, now, after)
    for wanted in after:
        number = _place(now, wanted)
        text = _valued(text, number + 1, now[number], wanted)
        now[number] = wanted
    return text, tuple(now)


def _place(now: list[Entry | None], wanted: Entry) -> int:
    return next(i for i, entry in enumerate(now) if entry and (entry.file, entry.nth) == (wanted.file, wanted.nth))


def _names(listed: tuple[Entry, ...] | list[Entry | None]) -> set[tuple[str, int]]:
    return {(entry.file, entry.nth) for entry in listed if entry}


def _dropped(text: str, now: list[Entry | None], after: tuple[Entry, ...]) -> str:
    from engine.song.writer import drop_song

    kept = _names(after)
    for place in range(len(now) - 1, -1, -1):
        entry = now[place]
        if entry and (entry.file, entry.nth) not in kept:
            text = drop_song(text, place + 1)
            del now[place]
    return text


def _added(text: str, now: list[Entry | None], after: tuple[Entry, ...]) -> str:
    from engine.song.writer import add_song

    there = _names(now)
    for entry in after:
        if (entry.file, entry.nth) not in there:
            text = add_song(text, entry.file)
            # Nothing is known of what the song's own file says: all of tonight's values are written.
            now.append(Entry(entry.file, entry.nth, "", 0.0, "", ()))
    return text


def _ordered(text: str, now: list[Entry | None], after: tuple[Entry, ...]) -> str:
    from engine.song.writer import move_song

    waiting = list(after)
    # Songs that did not open keep their places between the others.
    goals = [None if entry is None else waiting.pop(0) for entry in now]
    for goal, wanted in enumerate(goals):
        place = next(i for i in range(goal, len(now)) if now[i] is None) if wanted is None else _place(now, wanted)
        if place != goal:
            text = move_song(text, place + 1, goal + 1)
            now.insert(goal, now.pop(place))
    return text


def _valued(text: str, number: int, old: Entry | None, new: Entry) -> str:
    from engine.song.writer import add_pin, drop_pin, set_tonight

    if old is None or old == new:
        return text
    key = new.key if new.key != old.key else None
    tempo = new.tempo if new.tempo != old.tempo else None
    note = new.note if new.note != old.note else None
    if (key, tempo, note) != (None, None, None):
        text = set_tonight(text, number, key=key, tempo=tempo, note=note)
    for pin in old.pins:
        if not any(_same(pin, other) for other in new.pins):
            text = drop_pin(text, pin.section, pin.bar, pin.beat, number)
    for pin in new.pins:
        if pin not in old.pins:
            text = add_pin(text, pin, number)
    return text


def _same(pin: Pin, other: Pin) -> bool:
    return (pin.section, pin.bar, pin.beat) == (other.section, other.bar, other.beat)
