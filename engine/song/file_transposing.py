"""A song file put into another key for good: rewritten only where a note, a chord or a key stands.

Comments, order, spacing, names (German, Do Re Mi) and numbers stay as they are.
"""

import re
from collections.abc import Iterator
from dataclasses import replace

from engine.chord.house_rules import DEFAULT_RULES
from engine.errors import ChartError, Fault
from engine.song.fields import Sheet, Table, read_table
from engine.song.house_rules import read_rules
from engine.song.model import Song
from engine.song.plain_edits import Patch, like, patched
from engine.song.reader import read_song
from engine.song.signs import signs
from engine.song.source_positions import Path
from engine.song.transposing import nearest, transpose, transpose_symbol
from engine.song.tune_transposing import tune_patches
from engine.song.writing import pitch
from engine.theory.key import between, read_key
from engine.theory.pitch import key_number


def in_key(text: str, key: str, sharps: bool = False) -> str:
    """Return a song file in another key; of F# and Gb the side asked for, as `engine.song.transposing.transpose`.

    Raises:
        ChartError: the file has faults, or something in it cannot be moved by itself.
        ValueError: `key` is not a key.
    """
    old = read_song(text, "")
    new = transpose(old, key, sharps)
    if new is old:
        return text
    table, sheet = read_table(text, "")
    patches = [*_keys(sheet, old, new), *_notes(sheet, table, old, new), *_chords(sheet, table, old, new)]
    patches += _tunes(sheet, table, old, new)
    changed = patched(sheet.places.text, patches)
    _check(changed, new)
    return like(text, changed)


def _whole(sheet: Sheet, path: Path, words: str) -> Iterator[Patch]:
    """Yield the patch of a whole text value."""
    offsets = sheet.places.strings.get(path)
    if offsets:
        yield offsets[0], offsets[-1], words


def _keys(sheet: Sheet, old: Song, new: Song) -> Iterator[Patch]:
    yield from _whole(sheet, ("key",), new.key)
    for before, after in zip(old.sections, new.sections, strict=True):
        if before.key:
            yield from _whole(sheet, ("sections", before.name, "key"), after.key)


def _notes(sheet: Sheet, table: Table, old: Song, new: Song) -> Iterator[Patch]:
    """Yield the patches of the melody's ends and of the pins' notes."""
    by = nearest(between(read_key(old.key), read_key(new.key)))
    paths: list[Path] = [("melody", "lowest"), ("melody", "highest")]
    paths += [("pins", at, hand) for at in range(len(table.get("pins", ()))) for hand in ("left", "right")]
    for path in paths:
        offsets = sheet.places.strings.get(path, [])
        for word in re.finditer(r"[^\s,]+", _value(table, path)):
            moved = pitch(key_number(word[0][:1].upper() + word[0][1:]) + by, new.key)
            yield offsets[word.start()], offsets[word.end()], moved


def _value(table: Table, path: Path) -> str:
    found: object = table
    for step in path:
        if isinstance(found, dict):
            found = found.get(step, "")
        elif isinstance(found, list) and isinstance(step, int):
            found = found[step]
    return found if isinstance(found, str) else ""


def _chords(sheet: Sheet, table: Table, old: Song, new: Song) -> Iterator[Patch]:
    if table.get("numbers"):
        # Numbers of the key stay what they are.
        return
    rules = read_rules(sheet, table) if "names" in table or "reading" in table else DEFAULT_RULES
    for before, after in zip(old.sections, new.sections, strict=True):
        fifths = between(read_key(before.key or old.key), read_key(after.key or new.key))
        path: Path = ("sections", before.name, "bars")
        offsets = sheet.places.strings.get(path, [])
        for sign in signs(_value(table, path)):
            moved = transpose_symbol(sign.text, fifths, rules) if sign.kind == "chord" else sign.text
            if moved != sign.text:
                yield offsets[sign.offset], offsets[sign.offset + len(sign.text)], moved


def _tunes(sheet: Sheet, table: Table, old: Song, new: Song) -> Iterator[Patch]:
    """Yield the patches of the tunes."""
    semitones = nearest(between(read_key(old.key), read_key(new.key)))
    for before, after in zip(old.sections, new.sections, strict=True):
        path: Path = ("sections", before.name, "tune")
        text = _value(table, path)
        if before.tune:
            key, moved = read_key(before.key or old.key), read_key(after.key or new.key)
            meter = sheet.meter(table["sections"][before.name], (*path[:2], "meter"), old.meter)
            offsets = sheet.places.strings[path]
            for start, end, words in tune_patches(text, key.signature, meter, between(key, moved), semitones):
                yield offsets[start], offsets[end], words


def _check(text: str, wanted: Song) -> None:
    """See that the new text says what it should.

    Raises:
        ChartError: a chord, a key or a note of it does not.
    """
    found = read_song(text, "")
    for section, other in zip(found.sections, wanted.sections, strict=True):
        if section.tune != other.tune:
            raise ChartError("", (Fault(1, 1, f"the tune of {section.name} cannot be moved", "change it by hand"),))
        for bar, meant in zip(section.bars, other.bars, strict=True):
            for event, told in zip(bar.events, meant.events, strict=True):
                if _sound(event.chord) != _sound(told.chord):
                    fault = Fault(event.line, event.column, f"{event.symbol} cannot be moved", "change it by hand")
                    raise ChartError("", (fault,))
    if replace(found, sections=(), doubts=()) != replace(wanted, sections=(), doubts=(), source=found.source):
        raise ChartError("", (Fault(1, 1, "the key cannot be changed", "change it by hand"),))


def _sound(chord: object) -> object:
    from engine.chord.model import Chord

    return (chord.root.pc, chord.bass.pc, chord.degrees) if isinstance(chord, Chord) else None
