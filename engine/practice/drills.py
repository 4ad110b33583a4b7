"""Practice songs: what is common practice to take through twelve keys, written as song files.

A drill is a song like any other, so the stand, the MIDI file, the printed page and the log know nothing special about
it. Source of all of them: common practice; keys go down whole steps, then the other six from a half step up.
"""

from collections.abc import Callable
from dataclasses import dataclass
from difflib import get_close_matches
from functools import partial

from engine.errors import EngineError
from engine.practice.drill_text import Line, Part, sheet
from engine.song.model import SetList
from engine.theory.key import MAJOR_TONICS, MINOR_TONICS, Key, read_key
from engine.theory.pitch import NoteName, note_name
from engine.voicing.stacking import Keys, upward


@dataclass(eq=False)
class NoDrill(EngineError):
    """A drill that is not there, or a key that is none."""

    asked: str
    hint: str

    def __str__(self) -> str:
        return f"{self.asked}: {self.hint}"


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill by its name on the command line, and what it is good for in words."""

    name: str
    words: str
    write: Callable[[Key], str]


def drill_text(name: str, key: str = "C") -> str:
    """Return a drill as a song file that begins in `key`.

    Raises:
        NoDrill: no drill of this name, or no such key.
    """
    drill = next((drill for drill in DRILLS if drill.name == name), None)
    if drill is None:
        near = get_close_matches(name, [drill.name for drill in DRILLS], n=1)
        hint = f"did you mean {near[0]}?" if near else "the drills are " + ", ".join(drill.name for drill in DRILLS)
        raise NoDrill(name, f"there is no such drill, {hint}")
    return drill.write(_key(key))


def tonight_text(set_list: SetList) -> str:
    """Return a drill of two-five-ones in tonight's keys: rootless beside a bass player, shells without one.

    Raises:
        NoDrill: the set has no songs.
    """
    songs = [place.song for place in set_list.songs]
    if not songs:
        raise NoDrill("tonight", "the set has no songs, add one first")
    parts: dict[str, Part] = {}
    for song in songs:
        key = read_key(song.key)
        titles = (*parts[song.key].titles, song.title) if song.key in parts else (song.title,)
        home = _two_five(key.tonic, key.minor)
        parts[song.key] = Part(f"{key.tonic} {'minor' if key.minor else 'major'}", (home,), titles, str(key))
    players = [word for word, there in (("bass", set_list.bass), ("guitar", set_list.guitar)) if there]
    return sheet(
        f"Drill: {set_list.title}, Tonight's Keys",
        songs[0].key,
        list(parts.values()),
        method="rootless" if set_list.bass else "shell",
        note="as tonight's line-up wants it: "
        + (f"with {' and '.join(players)}" if players else "alone at the bottom"),
        about="A drill: two-five-one in each of tonight's keys, in the order they come up.",
    )


def _key(text: str) -> Key:
    try:
        return read_key(text)
    except ValueError:
        raise NoDrill(text, "that is no key, write it as Eb, F# or Cm") from None


# Keys and roots


def twelve(key: Key, minor: bool) -> tuple[tuple[NoteName, ...], tuple[NoteName, ...]]:
    """Return the tonics of two times six keys: down whole steps, then the other six from a half step up."""
    names = MINOR_TONICS if minor else MAJOR_TONICS
    first = key.tonic.pc
    even, odd = ([note_name(names[(start - 2 * step) % 12]) for step in range(6)] for start in (first, first + 1))
    return tuple(even), tuple(odd)


def root(tonic: NoteName, fifths: int) -> str:
    """Return the root that lies `fifths` from the tonic; a double sharp or flat is written the simple way."""
    name = tonic.up(fifths)
    return str(name) if abs(name.accidental) < 2 else MAJOR_TONICS[name.pc]


def _falling(key: Key, names: tuple[str, ...] = MAJOR_TONICS) -> list[str]:
    """Return twelve roots, each a fifth under the one before."""
    return [names[(key.tonic.pc + 5 * step) % 12] for step in range(12)]


# Grips


def _near(pcs: tuple[int, ...], around: int) -> Keys:
    """Return pitch classes stacked upward, the lowest one within a tritone of the key `around`."""
    return upward(around + (pcs[0] - around + 6) % 12 - 6, pcs[1:])


def _on(name: str, *above: int) -> tuple[int, ...]:
    """Return the pitch classes that lie so many semitones above a root."""
    return tuple((note_name(name).pc + step) % 12 for step in above)


def _bottom(name: str) -> Keys:
    """Return a root alone in the left hand, from Db2 to C3: the grip above holds with or without a bass player."""
    return _near(_on(name, 0), 43)


# The drills


def _circle(key: Key) -> str:
    roots = _falling(key)
    third_low, seventh_low = (_near(_on(roots[0], *form), 69) for form in ((4, 10), (10, 4)))
    back = Line(tuple(f"{name}7" for name in (roots[0], *roots[:0:-1])))
    return sheet(
        "Drill: Dominants, Both Ways Round",
        str(key),
        [
            Part("Falling, third below", (_sinking(roots, third_low),)),
            Part("Falling, seventh below", (_sinking(roots, seventh_low),)),
            Part("Rising", (back,)),
        ],
        method="shell",
        note="third and seventh fall half a step each and change places; say the root of each one",
        about="A drill: twelve dominants in shells round the circle of fifths, from both forms, then the other way.",
    )


def _sinking(roots: list[str], first: Keys) -> Line:
    """Return the dominants with a right hand that sinks half a step each time, the whole round through."""
    line = Line(tuple(f"{name}7" for name in roots))
    for bar in range(len(roots)):
        line = line.pinned(bar, left=_bottom(roots[bar]), right=tuple(key - bar for key in first))
    return line


def _two_five(tonic: NoteName, minor: bool) -> Line:
    two, five, one = (root(tonic, fifths) for fifths in (2, 1, 0))
    if minor:
        return Line((f"{two}m7b5", f"{five}7b9", f"{one}m6", "%"))
    return Line((f"{two}m7", f"{five}7", f"{one}maj7", "%"))


def _twelve_parts(key: Key, minor: bool, line: Callable[[NoteName], Line]) -> list[Part]:
    parts = []
    for name, tonics in zip(("Six", "Other six"), twelve(key, minor), strict=True):
        keys = ", ".join(f"{tonic}{'m' if minor else ''}" for tonic in tonics)
        parts.append(Part(name, tuple(map(line, tonics)), (keys,)))
    return parts


def _cadences(key: Key, minor: bool) -> str:
    return sheet(
        f"Drill: {'Minor ' if minor else ''}Two-Five-One in Twelve Keys",
        str(key),
        _twelve_parts(key, minor, lambda tonic: _two_five(tonic, minor)),
        method="shell",
        note="sing the third of each one; then the same without looking",
        about="A drill: the cadence in twelve keys, down whole steps, then a half step up for the other six.",
    )


def _rootless(key: Key, first: str) -> str:
    def line(tonic: NoteName) -> Line:
        cadence = _two_five(tonic, False)
        two, five, one = (root(tonic, fifths) for fifths in (2, 1, 0))
        low = {"A": (_on(two, 3, 7, 10, 14), _on(five, 10, 14, 16, 21), _on(one, 4, 7, 11, 14)),
               "B": (_on(two, 10, 14, 15, 19), _on(five, 4, 9, 10, 14), _on(one, 11, 14, 16, 19))}[first]  # fmt: skip
        at = 55
        for place, pcs in enumerate(low):
            keys = _near(pcs, at)
            cadence, at = cadence.pinned(place, left=keys, right=()), keys[0]
        return cadence.pinned(3, left=keys, right=())

    forms = {"A": "3-5-7-9, 7-9-3-13, 3-5-7-9", "B": "7-9-3-5, 3-13-7-9, 7-9-3-5"}[first]
    return sheet(
        f"Drill: Rootless, Beginning with {first}",
        str(key),
        _twelve_parts(key, False, line),
        method="rootless",
        note="the left hand alone; the right hand plays roots or the tune once it sits",
        about=f"A drill: rootless two-five-one in twelve keys, {forms} in the left hand, for when there is a bass.",
    )


def _inversions(key: Key) -> str:
    tonic = key.tonic
    chords = (("maj7", 0, (4, 7, 11)), ("m7", 2, (3, 7, 10)), ("m7", 4, (3, 7, 10)), ("maj7", -1, (4, 7, 11)),
              ("7", 1, (4, 7, 10)), ("m7", 3, (3, 7, 10)), ("m7b5", 5, (3, 6, 10)))  # fmt: skip
    if key.minor:
        chords = (("m7", 0, (3, 7, 10)), ("m7b5", 2, (3, 6, 10)), ("maj7", -3, (4, 7, 11)), ("m7", -1, (3, 7, 10)),
                  ("7", 1, (4, 7, 10)), ("maj7", -4, (4, 7, 11)), ("7", -2, (4, 7, 10)))  # fmt: skip
    lines = []
    for quality, fifths, (third, fifth, seventh) in chords:
        name = root(tonic, fifths)
        line = Line((f"{name}{quality}",) * 3)
        turned = ((0, third, fifth, seventh), (third, fifth, seventh, 0), (fifth, seventh, 0, third))
        for place, above in enumerate(turned):
            line = line.pinned(place, right=_near(_on(name, *above), 60))
        lines.append(line)
    return sheet(
        "Drill: Triad and Seventh through the Inversions",
        str(key),
        [Part("Inversions", tuple(lines))],
        method="triad",
        note="root position, first, second: the triad's own fingers, the seventh where one is free",
        about="A drill: the seven chords of the key, each through its inversions with the seventh beside the triad.",
    )


def _spreads(key: Key) -> str:
    return sheet(
        "Drill: Spreads, Low",
        str(key),
        [
            Part("Major", (Line(tuple(f"{name}maj7" for name in _falling(key))),)),
            Part("Minor", (Line(tuple(f"{name}m7" for name in _falling(key, MINOR_TONICS))),)),
        ],
        method="spread",
        note="no bass player: the left hand is the bottom; roll what your hand does not span",
        about="A drill: root, fifth, seventh and tenth spread wide in the low register, round the circle of fifths.",
    )


def _pairs(key: Key, tritone: bool) -> str:
    def line(tonic: NoteName) -> Line:
        two, five, one = (root(tonic, fifths) for fifths in (2, 1, 0))
        if tritone:
            return Line((f"{two}m7", f"{five}7", f"{root(tonic, -5)}7", f"{one}maj7"))
        # The same four keys for both: seventh, flat ninth, third and fifth of the dominant.
        keys = _near(_on(five, 10, 13, 16, 19), 58)
        lead = root(tonic, 5)
        pair = Line((f"{five}7b9", f"{lead}dim7", f"{one}6", "%"))
        return pair.pinned(0, _bottom(five), keys).pinned(1, _bottom(lead), keys)

    kind = "Tritone" if tritone else "Diminished"
    same = "the substitute has the same third and seventh" if tritone else "the same four notes over another root"
    return sheet(
        f"Drill: {kind} Pairs",
        str(key),
        _twelve_parts(key, False, line),
        method="shell" if tritone else "rootless",
        note=f"{same}: find the pair where the right hand need not move",
        about=f"A drill: {kind.lower()} pairs in twelve keys, the same shape under another name.",
    )


DRILLS: tuple[Drill, ...] = (
    Drill("circle", "dominants round the circle of fifths in shells, both ways", _circle),
    Drill("two-five-one", "two-five-one in twelve keys, shells", partial(_cadences, minor=False)),
    Drill("minor-two-five-one", "minor two-five-one in twelve keys, shells", partial(_cadences, minor=True)),
    Drill("rootless-a", "two-five-one in twelve keys, rootless, 3-5-7-9 first", partial(_rootless, first="A")),
    Drill("rootless-b", "two-five-one in twelve keys, rootless, 7-9-3-5 first", partial(_rootless, first="B")),
    Drill("inversions", "the key's seventh chords as triad and seventh through the inversions", _inversions),
    Drill("spreads", "tenths and fifths spread in the low register", _spreads),
    Drill("diminished", "dominants with a flat ninth and their diminished sevenths", partial(_pairs, tritone=False)),
    Drill("tritone", "dominants and their tritone substitutes", partial(_pairs, tritone=True)),
)
"""All drills; `tonight` is made of a set, see `tonight_text`."""
