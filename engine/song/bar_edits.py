"""Bars put into a section of a song's file, taken out of it, and copied; all other bars stay what they are.

Bars count as on the stand: from 1, a pickup bar is 0. Pins, the note's lines for bars and a tune go with their bars.
"""

from dataclasses import replace
from fractions import Fraction

from engine.song.abc_writing import tune_text
from engine.song.bar_places import Moved, with_places
from engine.song.fields import Sheet, read_table
from engine.song.model import Bar, Section, Song, TuneNote
from engine.song.plain_edits import Patch, like, no_section, patched, refuse
from engine.song.reader import read_song
from engine.song.source_positions import Path
from engine.song.tune import bar_starts
from engine.song.written_bars import WrittenBars, written_bars
from engine.theory.meter import Meter

BY_HAND = "edit it as text"


def copied_bars(text: str, section: str, first: int, last: int) -> str:
    """Return bars of a section as they can be put in elsewhere, bar lines between them."""
    bars, _, index = _found(text, section, first)
    return " | ".join(bars.bar(place) for place in range(index, min(index + last - first + 1, len(bars.bars))))


def insert_bars(text: str, section: str, after: int, new: str) -> str:
    """Return the file with bars put in after a bar (one less than the first bar: before all).

    Args:
        text: the file, which reads without a fault.
        section: the section's name.
        after: the bar they follow.
        new: their chords, with `|` between bars.

    Raises:
        ChartError: the file would have faults, or another bar would change its meaning.
    """
    new = new.strip().strip("|").strip()
    if not new:
        refuse("there is no bar to put in", "write its chords, as in Dm7 G7 | Cmaj7")
    count = len(written_bars(new).bars)
    old = _section(read_song(text, ""), section)
    lowest = 0 if old.pickup else 1
    if old.pickup and after < 0:
        refuse("a bar before the pickup", "put it in after the pickup, or edit the song as text")
    bars, sheet, _ = _found(text, section, lowest)
    index = after - lowest + 1
    if not 0 <= index <= len(bars.bars):
        refuse(f"{section} has no bar {after}", f"it has {len(bars.bars)}")
    patches = [_written_out(bars, index)] if index < len(bars.bars) else []
    place = bars.end(index - 1) if index else bars.start(0)
    patches.append((place, place, f" | {new}" if index else f"{new} | "))
    moved = shifted_places(section, after, count)
    kept = (*range(index), *range(index + count, len(bars.bars) + count))
    return _changed(text, sheet, section, patches, moved, (tuple(range(len(bars.bars))), kept))


def delete_bars(text: str, section: str, first: int, last: int, values: tuple[str, ...] = ()) -> str:
    """Return the file without the bars from `first` to `last` of a section, and without `values` of the section.

    Raises:
        ChartError: the section would be empty, a repeat would lose its bars, or another bar its meaning.
    """
    bars, sheet, index = _found(text, section, first)
    end = index + last - first
    if not first <= last or end >= len(bars.bars):
        refuse(f"{section} has no bar {last}", f"it has {len(bars.bars)}")
    if end - index + 1 == len(bars.bars):
        refuse(f"these are all bars of {section}", "drop the section as a whole")
    patches = [_gap(bars, index, end)]
    if end + 1 < len(bars.bars):
        out = _written_out(bars, end + 1)
        if out[0] < patches[0][1]:
            refuse("these bars cannot go by themselves", BY_HAND)
        patches.append(out)
    moved = gone_places(section, first, last)
    rest = (*range(index), *range(end + 1, len(bars.bars)))
    return _changed(text, sheet, section, patches, moved, (rest, tuple(range(len(rest)))), values)


def shifted_places(section: str, after: int, count: int) -> Moved:
    """Return where the bars are once `count` bars are put in after one."""
    return lambda name, bar: (name, bar + count) if name == section and bar > after else (name, bar)


def gone_places(section: str, first: int, last: int) -> Moved:
    """Return where the bars are once those from `first` to `last` are taken out."""

    def moved(name: str, bar: int) -> tuple[str, int] | None:
        if name != section or bar < first:
            return name, bar
        return None if bar <= last else (name, bar - (last - first + 1))

    return moved


def _gap(bars: WrittenBars, first: int, last: int) -> Patch:
    """Return what takes bars out together with one of the bar lines round them."""
    before, after = bars.lines[first], bars.lines[last + 1]
    plain_before, plain_after = (bool(line) and all(sign.kind == "bar" for sign in line) for line in (before, after))
    start, end = bars.start(first), bars.end(last)
    lines = "\n" in bars.text[before[0].offset : start] if before and first else False
    if plain_before and first and (lines or not plain_after):
        return bars.end(first - 1), end, ""
    if plain_after and last + 1 < len(bars.bars):
        return start, bars.start(last + 1), ""
    if plain_before and first:
        return bars.end(first - 1), end, ""
    if plain_before:
        return before[0].offset, end, ""
    opens = next((sign for sign in before if sign.kind == "open"), None)
    closes = [sign for sign in after if sign.kind in ("close", "times")]
    if opens and closes:
        return opens.offset, closes[-1].offset + _written(bars.text, closes[-1].offset), ""
    if opens and after and after[0].kind == "double":
        return opens.offset, after[0].offset, ""
    refuse("a repeat or an ending would lose its bars", BY_HAND)


def _written(text: str, offset: int) -> int:
    """Return the length of a sign as written: x3 may stand as 3x in all."""
    end = offset
    while end < len(text) and text[end] not in " \n\t":
        end += 1
    return end - offset


def _written_out(bars: WrittenBars, index: int) -> Patch:
    return bars.start(index), bars.end(index), bars.bar(index)


def _found(text: str, section: str, bar: int) -> tuple[WrittenBars, Sheet, int]:
    """Return a section's bars, the file they stand in, and the place of one of them from 0."""
    table, sheet = read_table(text, "")
    owner = table.get("sections", {}).get(section) or no_section(section)
    bars = written_bars(owner["bars"])
    index = bar if owner.get("pickup") else bar - 1
    if not 0 <= index < len(bars.bars):
        refuse(f"{section} has no bar {bar}", f"it has {len(bars.bars)}")
    return bars, sheet, index


def replace_bar(text: str, section: str, bar: int, new: str) -> str:
    """Return the song file with the chords of one written bar changed; bar lines and everything else stay.

    `bar` counts as on the stand: from 1, a pickup bar is 0. `new` is what stands between the bar lines.
    """
    plain, first, end = _bar_span(text, section, bar)
    return like(text, patched(plain, [(first, end, new.strip())]))


def bar_text(text: str, section: str, bar: int) -> str:
    """Return what stands between the bar lines of one written bar, as `replace_bar` takes it."""
    plain, first, end = _bar_span(text, section, bar)
    return plain[first:end]


def _bar_span(text: str, section: str, bar: int) -> tuple[str, int, int]:
    """Return the file's text with plain line ends, and where in it the chords of a bar begin and end."""
    bars, sheet, index = _found(text, section, bar)
    offsets = sheet.places.strings["sections", section, "bars"]
    return sheet.places.text, offsets[bars.start(index)], offsets[bars.end(index)]


def _section(song: Song, name: str) -> Section:
    return next((section for section in song.sections if section.name == name), None) or no_section(name)


def _changed(
    text: str,
    sheet: Sheet,
    name: str,
    patches: list[Patch],
    moved: Moved,
    kept: tuple[tuple[int, ...], tuple[int, ...]],
    values: tuple[str, ...] = (),
) -> str:
    """Return the file with its section's text patched, and what belongs to bars gone with them.

    `kept` are the places of the bars that stay, before and after: they have to be the same bars. `values` of the
    section are taken out.
    """
    old = _section(read_song(text, ""), name)
    offsets = sheet.places.strings["sections", name, "bars"]
    pieces = [(offsets[start], offsets[end], words) for start, end, words in patches]
    if old.tune:
        start, end = _whole(sheet, ("sections", name, "tune"))
        pieces.append((start, end, ""))
    changed = without_values(like(text, patched(sheet.places.text, pieces)), name, values)
    changed = with_places(changed, moved)
    new = _section(read_song(changed, ""), name)
    same = [_same(old.bars[one], new.bars[other]) for one, other in zip(*kept, strict=True)]
    if not all(same) or len(new.bars) < len(kept[1]):
        refuse("other bars would not be what they are", BY_HAND)
    return _with_tune(changed, old, new, kept) if old.tune else changed


def without_values(text: str, section: str, names: tuple[str, ...]) -> str:
    """Return the file without values of a section, and the lines they stand in."""
    table, sheet = read_table(text, "")
    plain, patches = sheet.places.text, []
    for name in names:
        if name in table["sections"][section]:
            path = ("sections", section, name)
            start = sheet.places.keys[path]
            end = plain.find("\n", sheet.places.strings.get(path, [start])[-1])
            patches.append((start, len(plain) if end < 0 else end + 1, ""))
    return like(text, patched(plain, patches))


def _whole(sheet: Sheet, path: Path) -> tuple[int, int]:
    offsets = sheet.places.strings[path]
    return offsets[0], offsets[-1]


def _same(one: Bar, other: Bar) -> bool:
    chords = [(e.beat, e.beats, e.symbol, e.chord, e.mark) for e in one.events]
    return one.meter == other.meter and chords == [(e.beat, e.beats, e.symbol, e.chord, e.mark) for e in other.events]


def _with_tune(text: str, old: Section, new: Section, kept: tuple[tuple[int, ...], tuple[int, ...]]) -> str:
    """Return the file with the tune's notes in the bars that they were in."""
    before, after = (*bar_starts(old), _length(old)), bar_starts(new)
    notes: list[TuneNote] = []
    for one, other in zip(*kept, strict=True):
        by = after[other] - before[one]
        notes += [
            replace(note, onset=note.onset + by) for note in old.tune if before[one] <= note.onset < before[one + 1]
        ]
    table, sheet = read_table(text, "")
    own = ("sections", new.name, "meter")
    meter = sheet.meter(table["sections"][new.name], own, sheet.meter(table, ("meter",), Meter(4, 4)))
    key = new.key or sheet.key_name(table, ("key",))
    in_order = sorted(notes, key=lambda note: note.onset)
    words = tune_text(in_order, key, meter, new.pickup, [bar.meter for bar in new.bars])
    start, end = _whole(sheet, ("sections", new.name, "tune"))
    lines = sheet.places.text.startswith(('"""', "'''"), sheet.places.values["sections", new.name, "tune"])
    words = f"{words}\n" if lines else words.replace("\n", " ")
    return like(text, patched(sheet.places.text, [(start, end, words)]))


def _length(section: Section) -> Fraction:
    """Return the beats of a section, each bar once."""
    start = bar_starts(section)[-1]
    return start + (section.pickup if len(section.bars) == 1 and section.pickup else section.bars[-1].meter.beats)
