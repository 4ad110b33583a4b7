"""What the stand changed for tonight, written into the set's own file and nowhere else.

Pure: the text goes in and comes out. The TOML writer is imported only when something has to be written.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from engine.song.fields import read_table
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


def slots(set_list: SetList) -> Slots:
    """Return the entries of a set as its file has them or is to have them; none for a song on its own."""
    if any(place.number < 1 for place in set_list.songs):
        return ()
    total = max([place.number for place in set_list.songs] + [len(set_list.songs) + len(set_list.missing)], default=0)
    found: list[Entry | None] = [None] * total
    seen: Counter[str] = Counter()
    for place in set_list.songs:
        song = place.song
        found[place.number - 1] = Entry(place.file, seen[place.file], song.key, song.tempo, song.note, song.pins)
        seen[place.file] += 1
    return tuple(found)


def changed_text(text: str, before: Slots, after: Slots) -> str:
    """Return a set file's text, whose entries are `before`, with the entries `after`; the same ones are the same text.

    Raises:
        ChartError: the file has no such entries any more, since another program changed it.
    """
    now = list(before)
    text = _dropped(text, now, after)
    text = _added(text, now, after)
    text = _ordered(text, now, after)
    for number, (old, new) in enumerate(zip(now, after, strict=True), 1):
        if old is not None and new is not None and old != new:
            text = _valued(text, number, old, new)
    if after != before:
        # Should the change ever make no TOML of it, it must not reach the disk.
        read_table(text, "the set as changed")
    return text


def _named(listed: Sequence[Entry | None]) -> list[tuple[str, int] | None]:
    return [(entry.file, entry.nth) if entry else None for entry in listed]


def _dropped(text: str, now: list[Entry | None], after: Slots) -> str:
    from engine.song.writer import drop_song

    kept = _named(after)
    for place, name in reversed(list(enumerate(_named(now)))):
        if name is not None and name not in kept:
            text = drop_song(text, place + 1)
            del now[place]
    return text


def _added(text: str, now: list[Entry | None], after: Slots) -> str:
    from engine.song.writer import add_song

    there = _named(now)
    for entry in after:
        if entry is not None and (entry.file, entry.nth) not in there:
            text = add_song(text, entry.file)
            # Nothing is known of what the song's own file says: all of tonight's values are written.
            now.append(Entry(entry.file, entry.nth, "", 0.0, "", ()))
    return text


def _ordered(text: str, now: list[Entry | None], after: Slots) -> str:
    """Move the songs to their places; those that did not open are told apart by nothing, and keep their order."""
    from engine.song.writer import move_song

    for goal, name in enumerate(_named(after)):
        place = _named(now).index(name, goal)
        if place != goal:
            text = move_song(text, place + 1, goal + 1)
            now.insert(goal, now.pop(place))
    return text


def _valued(text: str, number: int, old: Entry, new: Entry) -> str:
    from engine.song.writer import set_pins, set_tonight

    key = new.key if new.key != old.key else None
    tempo = new.tempo if new.tempo != old.tempo else None
    note = new.note if new.note != old.note else None
    if (key, tempo, note) != (None, None, None):
        text = set_tonight(text, number, key=key, tempo=tempo, note=note)
    fresh = [pin for pin in new.pins if pin not in old.pins]
    gone = [pin for pin in old.pins if not any(pin.place == other.place for other in new.pins)]
    return set_pins(text, number, fresh, gone, new.key) if fresh or gone else text
