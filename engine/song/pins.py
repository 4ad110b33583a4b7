"""Pins: voicings a player insists on, read from `[[pins]]` and checked against the song's bars."""

import re
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction

from engine.chord.model import Chord
from engine.song.fields import Sheet, Table
from engine.song.model import Pin, Section
from engine.song.pin_remarks import pin_remarks
from engine.song.source_positions import Path
from engine.theory.meter import beats_figure
from engine.theory.pitch import key_number

KEYS = ("section", "bar", "beat", "left", "right", "fingers")
FREE = "free"
"""The key by which a set takes a song's own pin off for tonight: `free = true` in place of the notes."""
_LOWEST, _HIGHEST = 21, 108
"""The piano's outer keys, A0 and C8, as MIDI numbers. Source: MIDI 1.0 note numbers, middle C = 60."""


def read_pins(
    sheet: Sheet, tables: list[Table], path: Path, sections: tuple[Section, ...], elsewhere: bool = False
) -> tuple[Pin, ...]:
    """Return the pins that can be used; every other one is a fault of the sheet, a second one at a place is noted.

    `elsewhere`: the sections stand in another file, which may have changed since; a pin that no longer fits them is
    left out with a note, so that the evening still opens. A pin may be free there: it has neither hand.
    """
    pins: list[Pin] = []
    for number, table in enumerate(tables):
        before = len(sheet.faults)
        pin = _pin(sheet, table, (*path, number), elsewhere)
        slip = pin and _misplaced(pin, sections)
        if slip and not elsewhere:
            sheet.at_value((*path, number, slip.key), slip.found, slip.hint)
        elif slip:
            place = sheet.places.value(*path, number, slip.key)
            sheet.notes.append((*place, "pin", f"is left out: {slip.found}, {slip.hint}"))
        elif pin and any(pin.place == other.place for other in pins):
            remark = "is left out: the chord is pinned further up already, keep one of the two"
            sheet.notes.append((*sheet.places.key(*path, number), "pin", remark))
        elif pin and len(sheet.faults) == before:
            pins.append(pin)
            for key, remark in pin_remarks(pin, _chord_under(pin, sections)):
                sheet.notes.append((*sheet.places.value(*path, number, key), "pin", remark))
    return tuple(pins)


def _pin(sheet: Sheet, table: Table, path: Path, elsewhere: bool) -> Pin | None:
    sheet.unknown(table, path, (*KEYS, FREE) if elsewhere else KEYS, "a pin")
    name = sheet.text(table, (*path, "section"), needed='the section it stands in, as in section = "Verse"')
    bar = int(sheet.number(table, (*path, "bar"), 1, 0, 9999))
    beat = sheet.beats(table, (*path, "beat"), Fraction(1))
    before = len(sheet.faults)
    if elsewhere and table.get(FREE) is True:
        return Pin(name, bar, beat, None, None)
    left = _notes(sheet, table, (*path, "left"))
    right = _notes(sheet, table, (*path, "right"))
    if left is None and right is None and "left" not in table and "right" not in table:
        sheet.at_key(path, "the pin has no notes", 'write left = "F2 C3" or right = "Ab3 Eb4", or both')
        return None
    if len(sheet.faults) > before:
        return None
    left_fingers, right_fingers = _fingers(sheet, table, (*path, "fingers"), left, right)
    left, left_fingers = _ascending(left, left_fingers)
    right, right_fingers = _ascending(right, right_fingers)
    return Pin(name, bar, beat, left, right, left_fingers, right_fingers)


@dataclass(frozen=True, slots=True)
class _Slip:
    """What does not fit the song: the pin's key that says it, what was found, how to mend it."""

    key: str
    found: str
    hint: str


def _misplaced(pin: Pin, sections: tuple[Section, ...]) -> _Slip | None:
    """Return why a pin stands nowhere in the song, None when it does."""
    section = next((section for section in sections if section.name == pin.section), None)
    if section is None:
        names = [section.name for section in sections]
        near = get_close_matches(pin.section, names, n=1, cutoff=0.5)
        hint = f"did you mean {near[0]}?" if near else f"the sections are {', '.join(names)}"
        return _Slip("section", f"there is no section {pin.section}", hint) if pin.section else None
    first = 0 if section.pickup else 1
    last = len(section.bars) - 1 + first
    if not first <= pin.bar <= last:
        return _Slip("bar", f"{pin.section} has no bar {pin.bar}", f"its bars are {first} to {last}")
    beats = [event.beat for event in section.bars[pin.bar - first].events]
    if pin.beat in beats:
        return None
    found = f"no chord begins on beat {beats_figure(pin.beat)} of {pin.section}, bar {pin.bar}"
    return _Slip("beat", found, f"chords begin on {', '.join(map(beats_figure, beats)) or 'no beat'}")


def _chord_under(pin: Pin, sections: tuple[Section, ...]) -> Chord | None:
    """Return the chord that a pin stands on; None where it stands nowhere, or on a bar without one."""
    section = next((section for section in sections if section.name == pin.section), None)
    if section is None:
        return None
    bar = section.bars[pin.bar - (0 if section.pickup else 1)]
    return next((event.chord for event in bar.events if event.beat == pin.beat), None)


def _notes(sheet: Sheet, table: Table, path: Path) -> tuple[int, ...] | None:
    """Return the keys of one hand as written, () for a hand that rests, None for one that is free."""
    if path[-1] not in table:
        return None
    keys: list[int] = []
    text = sheet.text(table, path)
    for found in re.finditer(r"[^\s,]+", text):
        try:
            key = key_number(found[0][:1].upper() + found[0][1:])
        except ValueError:
            place = sheet.places.inside(found.start(), *path)
            sheet.at_place(place, f"{found[0]} is no note", "write names with octaves, as in F2 Ab3 (C4 is middle C)")
            continue
        if not _LOWEST <= key <= _HIGHEST:
            place = sheet.places.inside(found.start(), *path)
            sheet.at_place(place, f"{found[0]} is not on the keyboard", "A0 to C8 (C4 is middle C)")
        elif key in keys:
            place = sheet.places.inside(found.start(), *path)
            sheet.at_place(place, f"{found[0]} stands twice", "write each key once")
        else:
            keys.append(key)
    return tuple(keys)


def _fingers(
    sheet: Sheet, table: Table, path: Path, left: tuple[int, ...] | None, right: tuple[int, ...] | None
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    text = sheet.text(table, path).strip()
    if not text:
        return (), ()
    parts = text.split("/")
    if len(parts) == 1:
        parts = [text, ""] if left else ["", text]
    hands = [tuple(int(figure) for figure in re.findall(r"[1-5]", part)) for part in parts]
    if len(parts) != 2 or re.sub(r"[1-5\s/,-]", "", text):
        sheet.at_value(path, f"fingers are {text!r}", 'write left / right from 1 to 5, as in "5 1 / 1 4"')
        return (), ()
    for name, fingers, keys in (("left", hands[0], left or ()), ("right", hands[1], right or ())):
        if fingers and len(fingers) != len(keys):
            found = f"{len(fingers)} fingers for {len(keys)} keys of the {name} hand"
            sheet.at_value(path, found, "write one finger for each key, or none for that hand")
            return (), ()
    return hands[0], hands[1]


def _ascending(
    keys: tuple[int, ...] | None, fingers: tuple[int, ...]
) -> tuple[tuple[int, ...] | None, tuple[int, ...]]:
    if not keys or not fingers:
        return (tuple(sorted(keys)) if keys else keys), fingers
    pairs = sorted(zip(keys, fingers, strict=True))
    return tuple(key for key, _ in pairs), tuple(finger for _, finger in pairs)
