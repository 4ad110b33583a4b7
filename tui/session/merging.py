"""Two versions of a set brought together: ours on the stand, and the one that another program left in the file.

Pure. Both are compared with the last version that both sides knew, value by value: the key, the tempo, how it is
played, how each section is, the note of each place, the pin of each place, which songs there are, and their order. What
one side changed is taken; where both did, a clash asks whose holds. Everything else of a song (its bars, its title) is
as the file has it.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

from engine.song.model import MANNER, Pin, SetList, SetSong, Song
from tui.session.bar_notes import is_bar_note
from tui.session.manner_words import MANNER_WORDS
from tui.session.song_names import Name, named
from tui.session.song_numbers import renumbered

Value = tuple[Name | None, str]
"""Something that is decided for tonight: of which song (None: of the set), and what."""
Values = dict[str, Any]
Songs = tuple[SetSong, ...]

SONG, ORDER = "song", "order"

PLAYED = tuple(name for name in MANNER if name != "parts")
"""How the whole song is played; what is said of single sections is compared section by section."""


@dataclass(frozen=True, slots=True)
class Clash:
    """A value that both sides changed: what it is, and both versions, in words."""

    value: Value
    what: str
    ours: str
    theirs: str


Choose = Callable[[Clash], bool | None]
"""Tells whether ours holds; None where nobody has said yet."""


@dataclass(frozen=True, slots=True)
class Merged:
    """Both versions in one; for a clash that is still open it holds theirs."""

    set_list: SetList
    clashes: tuple[Clash, ...]


def merged(
    base: Songs, ours: SetList, theirs: SetList, choose: Choose, decided: frozenset[Value] = frozenset()
) -> Merged:
    """Return both versions in one. `decided` are values that ours may not lose although the base has them too."""
    meeting = _Meeting(named(base), named(ours.songs), named(theirs.songs), choose, decided)
    kept = {name: place for name in meeting.names() if (place := meeting.song(name)) is not None}
    order = meeting.order(tuple(kept))
    songs = renumbered(tuple(kept[name] for name in order), theirs)
    return Merged(replace(theirs, songs=songs), tuple(meeting.open))


def changes(before: Songs, after: Songs) -> frozenset[Value]:
    """Return what was decided between two versions of a set."""
    old, new = named(before), named(after)
    found: set[Value] = {(name, SONG) for name in old.keys() ^ new.keys()}
    for name in old.keys() & new.keys():
        if old[name].song is not new[name].song:
            key = new[name].song.key
            one, other = values(old[name], key), values(new[name], key)
            found |= {(name, what) for what in one.keys() | other.keys() if one.get(what) != other.get(what)}
    if [name for name in old if name in new] != [name for name in new if name in old]:
        found.add((None, ORDER))
    return frozenset(found)


def differences(theirs: Songs, ours: Songs) -> tuple[Clash, ...]:
    """Return in words what is decided otherwise in two versions of a set, song by song in the order of ours."""
    old, new = named(theirs), named(ours)
    titles = {**old, **new}

    def said(name: Name | None, what: str) -> Clash:
        if name is None:
            return Clash((None, ORDER), "the order of the songs", _first(list(new), new), _first(list(old), old))
        if what == SONG:
            here, there = ("in the set" if name in songs else "dropped" for songs in (new, old))
            return Clash((name, SONG), titles[name].song.title, here, there)
        key = new[name].song.key
        one, other = values(new[name], key).get(what), values(old[name], key).get(what)
        return _clash(name, new[name], what, one, other)

    places = {name: place for place, name in enumerate([*new, *old, None])}
    found = sorted(changes(theirs, ours), key=lambda value: (places[value[0]], value[1]))
    return tuple(said(*value) for value in found)


def put_back(base: Songs, ours: Songs, clashes: tuple[Clash, ...]) -> Songs:
    """Return our songs with the values that clash as the base has them: what both sides know after a saving."""
    old, new = named(base), named(ours)
    open_ = {clash.value for clash in clashes}
    for name in old.keys() & new.keys():
        key = new[name].song.key
        before, now = values(old[name], key), values(new[name], key)
        back = {what for (of, what) in open_ if of == name and what != SONG}
        wanted = {what: before.get(what) if what in back else now.get(what) for what in [*now, *back]}
        new[name] = with_values(new[name], now, wanted, key) if back else new[name]
    dropped = {name: old[name] for name in old if (name, SONG) in open_ and name not in new}
    found = {**new, **dropped}
    order = [*(name for name in old if name in found), *(name for name in found if name not in old)]
    return tuple(found[name] for name in (order if (None, ORDER) in open_ else found))


# The values of a song


def values(place: SetSong, key: str) -> Values:
    """Return what is decided for a song tonight, its pins as they lie in `key`."""
    song = place.song
    found: Values = {"key": song.key, "tempo": song.tempo, **{name: getattr(song, name) for name in PLAYED}}
    for part in song.sections:
        found |= {f"{name} of {part.name}": value for name, value in part.manner.items()}
    own: list[str] = []
    for line in filter(None, (line.strip() for line in song.note.splitlines())):
        if is_bar_note(line):
            head, _, words = line.partition(":")
            found[f"note of {head}"] = words.strip()
        else:
            own.append(line)
    if own:
        found["note"] = "\n".join(own)
    for pin in _moved_pins(place, song.pins, song.key, key):
        found[f"pin of {pin.section} bar {pin.bar} beat {float(pin.beat):g}"] = pin
    return found


def with_values(place: SetSong, there: Values, wanted: Values, key: str) -> SetSong:
    """Return a song with other values; `there` are its own. Pins are given as they lie in `key`."""
    wanted = {what: value for what, value in wanted.items() if value is not None}
    if wanted == there:
        return place
    from engine.song.transposing import transpose

    song = place.song if wanted["key"] == place.song.key else transpose(place.song, wanted["key"])
    pins = tuple(value for what, value in wanted.items() if what.startswith("pin "))
    bars = [f"{what.removeprefix('note of ')}: {text}" for what, text in wanted.items() if what.startswith("note of ")]
    note = "\n".join(filter(None, [*bars, wanted.get("note", "")]))
    if _notes(wanted) == _notes(there):
        # Its lines may stand in another order.
        note = place.song.note
    pins = _moved_pins(place, pins, key, song.key)
    song = replace(_with_sections(song, there, wanted), **{name: wanted[name] for name in PLAYED if name in wanted})
    return replace(place, song=replace(song, tempo=wanted["tempo"], note=note, pins=pins), steps=())


def _with_sections(song: Song, there: Values, wanted: Values) -> Song:
    """Return a song with what is wanted of single sections; what is no longer said of one is as the song has it."""
    from engine.song.parts import PART_KEYS, with_part

    for part in song.sections:
        for name in PART_KEYS:
            what = f"{name} of {part.name}"
            if wanted.get(what) != there.get(what):
                song = with_part(song, part.name, name, wanted.get(what, ""))
    return song


def _notes(values: Values) -> Values:
    return {what: value for what, value in values.items() if what.startswith("note")}


def _moved_pins(place: SetSong, pins: tuple[Pin, ...], key: str, to: str) -> tuple[Pin, ...]:
    if key == to or not pins:
        return pins
    from engine.song.transposing import transpose

    return transpose(replace(place.song, key=key, sections=(), pins=pins), to).pins


# The meeting of both


class _Meeting:
    """Our songs and theirs beside the base; collects the clashes nobody has decided yet in `open`."""

    def __init__(
        self,
        base: dict[Name, SetSong],
        ours: dict[Name, SetSong],
        theirs: dict[Name, SetSong],
        choose: Choose,
        decided: frozenset[Value],
    ) -> None:
        self.base, self.ours, self.theirs = base, ours, theirs
        self.choose, self.decided = choose, decided
        self.open: list[Clash] = []

    def names(self) -> list[Name]:
        return list(dict.fromkeys([*self.theirs, *self.ours]))

    def ours_holds(self, clash: Clash) -> bool:
        choice = self.choose(clash)
        if choice is None:
            self.open.append(clash)
        return bool(choice)

    def song(self, name: Name) -> SetSong | None:
        """Return a song as both sides want it, None when it goes."""
        ours, theirs, base = self.ours.get(name), self.theirs.get(name), self.base.get(name)
        if ours is not None and theirs is not None:
            return self.both(name, ours, theirs, base)
        if ours is not None:
            return ours if base is None or self.keeps(name, ours, base) else None
        assert theirs is not None
        return None if base is not None and self.drops(name, theirs, base) else theirs

    def keeps(self, name: Name, ours: SetSong, base: SetSong) -> bool:
        """Tell whether a song stays that they dropped: only where something was decided for it here."""
        own = any(of == name for of, _ in self.decided) or changes((base,), (ours,))
        clash = Clash((name, SONG), ours.song.title, "kept, with what was decided", "dropped from the set")
        return bool(own) and self.ours_holds(clash)

    def drops(self, name: Name, theirs: SetSong, base: SetSong) -> bool:
        """Tell whether a song goes that we dropped: they may have decided something for it, or put it back."""
        own = (name, SONG) in self.decided or changes((base,), (theirs,))
        clash = Clash((name, SONG), theirs.song.title, "dropped from the set", "kept, with what was decided")
        return not own or self.ours_holds(clash)

    def both(self, name: Name, ours: SetSong, theirs: SetSong, base: SetSong | None) -> SetSong:
        decided = {what for of, what in self.decided if of == name}
        if base is not None and ours.song is base.song and not decided:
            return theirs
        key = ours.song.key
        old = values(base, key) if base is not None else {}
        own, other = values(ours, key), values(theirs, key)
        wanted = {}
        for what in dict.fromkeys([*other, *own]):
            before, mine, found = old.get(what), own.get(what), other.get(what)
            if mine == found or (mine == before and what not in decided):
                wanted[what] = found
            elif found == before or self.ours_holds(_clash(name, ours, what, mine, found)):
                wanted[what] = mine
            else:
                wanted[what] = found
        return with_values(theirs, other, wanted, key)

    def order(self, kept: tuple[Name, ...]) -> list[Name]:
        """Return the songs in the order of whoever changed it; a newcomer stands after the one it followed, or last."""
        ours, theirs = list(self.ours), list(self.theirs)
        both = [name for name in kept if name in self.ours and name in self.theirs]
        first, second = (theirs, ours) if self._their_order(set(both)) else (ours, theirs)
        order = [name for name in first if name in kept]
        places = {name: place for place, name in enumerate(second)}
        ends = max((places[name] for name in order if name in places), default=-1)
        for before, name in pairwise([None, *second]):
            if name in kept and name not in order and name is not None:
                last = len(order) if places[name] > ends else 0
                order.insert(order.index(before) + 1 if before in order and not last else last, name)
        return order

    def _their_order(self, both: set[Name]) -> bool:
        ours, theirs, base = ([n for n in names if n in both] for names in (self.ours, self.theirs, self.base))
        known = set(base)
        we_moved = [name for name in ours if name in known] != base or (None, ORDER) in self.decided
        they_moved = [name for name in theirs if name in known] != base or (None, ORDER) in self.decided
        if ours == theirs or not we_moved:
            return True
        clash = Clash((None, ORDER), "the order of the songs", _first(ours, self.ours), _first(theirs, self.theirs))
        return they_moved and not self.ours_holds(clash)


def _first(names: list[Name], songs: dict[Name, SetSong]) -> str:
    return ", ".join(songs[name].song.title for name in names[:2]) + " ..."


def _clash(name: Name, place: SetSong, what: str, ours: Any, theirs: Any) -> Clash:
    head, _, of = what.partition(" of ")
    said = ", ".join(filter(None, (MANNER_WORDS.get(head, head), of)))
    return Clash(
        (name, what), f"{place.song.title}, {said}", _said(ours, place.song.key), _said(theirs, place.song.key)
    )


def _said(value: Any, key: str) -> str:
    """Return a value in words of one line."""
    if value is None or value == "":
        return "none"
    if isinstance(value, Pin):
        return " / ".join(_hand(hand, key) for hand in (value.left, value.right))
    return f"{value:g}" if isinstance(value, float) else " ".join(str(value).split())


def _hand(keys: tuple[int, ...] | None, key: str) -> str:
    from engine.song.writing import pitch

    return "free" if keys is None else " ".join(pitch(one, key) for one in keys) or "rests"
