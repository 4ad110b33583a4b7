"""What the stand changed for tonight, written into the set's own file and nowhere else.

Pure: the text goes in and comes out. The TOML writer is imported only when something has to be written.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import PurePath

from engine.song.fields import read_table
from engine.song.model import MANNER, Pin, SetList, SetSong
from tui.session.band import EVENING, Band


@dataclass(frozen=True, slots=True)
class Entry:
    """One song of the set as the file holds it: `nth` tells apart entries of the same file.

    `manner` is how the song is played, in the order of `MANNER`; `rest` is what else the entry says of it and nobody
    changes on the stand; `own_pins` are the places of the song's own pins, `own_manner` how its own file has it
    played, `own` its key, tempo and note there, None where they are not known.
    """

    file: str
    nth: int
    key: str
    tempo: float
    note: str
    pins: tuple[Pin, ...]
    manner: tuple[str, ...] = ()
    rest: tuple[object, ...] = field(default=(), compare=False)
    own_pins: tuple[tuple[str, int, Fraction], ...] = field(default=(), compare=False)
    own_manner: tuple[str, ...] = field(default=(), compare=False)
    own: tuple[str, float, str] | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Unopened:
    """A song of the set that could not be opened: it is moved and dropped, and else left as it stands."""

    file: str
    nth: int


Slots = tuple[Entry | Unopened, ...]
"""The entries of the file in order."""


def slots(set_list: SetList) -> Slots:
    """Return the entries of a set as its file has them or is to have them; none for a song on its own."""
    alone = [name for name, _ in set_list.missing] == [PurePath(set_list.source).name]
    if alone or any(place.number < 1 for place in set_list.songs):
        return ()
    total = max([place.number for place in set_list.songs] + [len(set_list.songs) + len(set_list.missing)], default=0)
    seen: Counter[str] = Counter()
    opened = {}
    for place in set_list.songs:
        opened[place.number] = _entry(place, seen[place.file])
        seen[place.file] += 1
    # Counted apart: a song that does not open has no other entry to be taken for.
    names = [name for name, _ in set_list.missing]
    unopened = iter(Unopened(name, -names[: place + 1].count(name)) for place, name in enumerate(names))
    numbers = range(1, total + 1)
    return tuple(opened[number] if number in opened else next(unopened, Unopened("", -number)) for number in numbers)


def _entry(place: SetSong, nth: int) -> Entry:
    song = place.song
    tonight = song.key, song.tempo, song.note, song.pins, song.manner
    return Entry(place.file, nth, *tonight, (song.midi,), place.own_pins, place.own_manner, place.own)


def _matched(before: Slots, after: Slots) -> Slots:
    """Return `after` with entries of one file told apart by what else they say, where that differs: the second of two
    that stay is the second of the file, even when the first was dropped."""
    free = list(before)
    found: dict[int, Entry | Unopened] = {}
    for same in (_is_same, _says_the_same, _is_sent_the_same, _is_of_a_kind, _has_the_file):
        for place, entry in enumerate(after):
            old = None if place in found else next((one for one in free if same(one, entry)), None)
            if old is not None:
                free.remove(old)
                found[place] = replace(entry, nth=old.nth)
    # What is new in the set comes after what was there.
    count = Counter(entry.file for entry in before)
    for place, entry in enumerate(after):
        if place not in found:
            found[place] = replace(entry, nth=count[entry.file])
            count[entry.file] += 1
    return tuple(found[place] for place in range(len(after)))


def _is_same(old: Entry | Unopened, new: Entry | Unopened) -> bool:
    return old.nth == new.nth and _says_the_same(old, new)


def _says_the_same(old: Entry | Unopened, new: Entry | Unopened) -> bool:
    if isinstance(old, Entry) and isinstance(new, Entry):
        return (old.file, old.manner, old.rest) == (new.file, new.manner, new.rest)
    return old == new


def _is_sent_the_same(old: Entry | Unopened, new: Entry | Unopened) -> bool:
    if isinstance(old, Entry) and isinstance(new, Entry):
        return (old.file, old.rest) == (new.file, new.rest)
    return False


def _is_of_a_kind(old: Entry | Unopened, new: Entry | Unopened) -> bool:
    return type(old) is type(new) and old.file == new.file


def _has_the_file(old: Entry | Unopened, new: Entry | Unopened) -> bool:
    """A song that did not open may do so by now, or the other way round: its lines are the same."""
    return old.file == new.file


def changed_text(text: str, before: Slots, after: Slots) -> str:
    """Return a set file's text, whose entries are `before`, with the entries `after`; the same ones are the same text.

    Raises:
        ChartError: the file has no such entries any more, since another program changed it.
    """
    now, after = list(before), _matched(before, after)
    text = _dropped(text, now, after)
    text = _added(text, now, after)
    text = _ordered(text, now, after)
    for number, (old, new) in enumerate(zip(now, after, strict=True), 1):
        if isinstance(old, Entry) and isinstance(new, Entry) and old != new:
            text = _valued(text, number, old, new)
    if after != before:
        # Should the change ever make no TOML of it, it must not reach the disk.
        read_table(text, "the set as changed")
    return text


def text_with_band(text: str, before: Band, after: Band) -> str:
    """Return a set file's text, whose band is `before`, with the band `after`; the same one is the same text.

    Raises:
        ChartError: the file is no TOML.
    """
    changed = {name: new for name, old, new in zip(EVENING, before, after, strict=True) if new != old}
    if not changed:
        return text
    from engine.song.writer import set_band

    text = set_band(text, changed)
    read_table(text, "the set as changed")
    return text


def _tonights_parts(entry: Entry) -> str:
    """Return what the set says of single sections: that in which tonight differs from the song's own file."""
    import json

    from engine.song.parts import differences

    own, wanted = (dict(zip(MANNER, manner, strict=False)) for manner in (entry.own_manner, entry.manner))
    changed = differences(own.get("parts", ""), wanted["parts"])
    return json.dumps(changed, ensure_ascii=False, sort_keys=True) if changed else ""


def _named(listed: Sequence[Entry | Unopened]) -> list[tuple[str, int]]:
    return [(entry.file, entry.nth) for entry in listed]


def _dropped(text: str, now: list[Entry | Unopened], after: Slots) -> str:
    from engine.song.writer import drop_song

    kept = _named(after)
    for place, name in reversed(list(enumerate(_named(now)))):
        if name not in kept:
            text = drop_song(text, place + 1)
            del now[place]
    return text


def _added(text: str, now: list[Entry | Unopened], after: Slots) -> str:
    from engine.song.writer import add_song

    there = _named(now)
    for entry in after:
        if (entry.file, entry.nth) not in there:
            text = add_song(text, entry.file)
            now.append(_as_its_file(entry) if isinstance(entry, Entry) else entry)
    return text


def _as_its_file(entry: Entry) -> Entry:
    """Return the entry of a song of which its set says nothing: where its own file's key, tempo and note are not
    known, all of tonight's are to be written."""
    return Entry(entry.file, entry.nth, *(entry.own or ("", 0.0, "")), (), entry.own_manner)


def _ordered(text: str, now: list[Entry | Unopened], after: Slots) -> str:
    """Move the songs to their places."""
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
    played = tuple(zip(MANNER, old.manner or new.manner, new.manner, strict=False))
    manner = {name: wanted for name, there, wanted in played if wanted != there}
    if "parts" in manner:
        manner["parts"] = _tonights_parts(new)
    if (key, tempo, note) != (None, None, None) or manner:
        text = set_tonight(text, number, key=key, tempo=tempo, note=note, manner=manner)
    fresh = [pin for pin in new.pins if pin not in old.pins]
    gone = [pin for pin in old.pins if not any(pin.place == other.place for other in new.pins)]
    # The song's own pin would be back at the next start: the set says that it is off for tonight.
    off = [pin for pin in gone if pin.place in new.own_pins]
    fresh += [Pin(*pin.place, None, None) for pin in off]
    gone = [pin for pin in gone if pin not in off]
    return set_pins(text, number, fresh, gone, new.key) if fresh or gone else text
