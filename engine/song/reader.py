"""Song files read into frozen values, all faults of a file in one run; a typed line of bars read the same way."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from engine.song.bars import read_bars
from engine.song.chord_names import Wording, reader_of
from engine.song.fields import LONGEST_NAME, Sheet, Table, read_table
from engine.song.groove import read_comp, read_left_hand
from engine.song.header import SONG_KEYS, Head, read_head
from engine.song.model import Bar, Section, Song
from engine.song.pins import read_pins
from engine.song.repeats import framed
from engine.song.roadmap import Slip, read_entry, read_roadmap
from engine.song.section_draft import Draft, Word
from engine.song.section_tempo import FASTEST, SLOWEST, pace_of
from engine.song.section_voicing import KEYS, read_section_voicing
from engine.song.source_positions import plain_places
from engine.song.tune import read_tune
from engine.song.whose_tune import read_whose
from engine.theory.meter import Meter
from engine.theory.meter import meter as read_meter

SECTION_KEYS = (
    "bars",
    "cue",
    "pickup",
    "key",
    "until",
    "meter",
    "tempo",
    "comp",
    "left_hand",
    "tune",
    "tune_is",
    *KEYS,
)
MOST_STEPS = 20_000
"""Chords as played beyond which a roadmap is taken for a slip (own choice: some ten hours of music)."""


def read_song(text: str, source: str) -> Song:
    """Read a song file.

    Raises:
        ChartError: with every fault of the file, in its order.
    """
    table, sheet = read_table(text, source)
    sheet.unknown(table, (), SONG_KEYS, "a song")
    head = read_head(sheet, table)
    words: list[Word] = []
    sections = _sections(sheet, table, head, words)
    roadmap = _roadmap(sheet, table, sections)
    pins = read_pins(sheet, sheet.tables(table, ("pins",)), ("pins",), sections)
    _check_length(sheet, sections, roadmap)
    sheet.done(source)
    song = replace(head.song, sections=sections, roadmap=roadmap, pins=pins, source=source)
    return replace(song, doubts=tuple(sorted([*sheet.notes, *_doubts(words), *_mixed_names(words)])))


def song_from_chart(bars: str, key: str = "C", meter: str = "4/4", tempo: float = 120.0) -> Song:
    """Read a typed line of bars as a song of one section, Chart.

    Raises:
        ChartError: with every fault; lines and columns count inside `bars`.
        ValueError: `meter` is none.
    """
    sheet = Sheet(plain_places(bars))
    draft = Draft(read_meter(meter), reader_of(Wording()), lambda offset: sheet.places.inside(offset))
    section = Section("Chart", _bars(sheet, draft, bars))
    if not section.bars and not sheet.faults:
        sheet.at_value((), "there are no bars", 'write them as in "| Dm7 | G7 | C6 |"')
    sheet.done("chart")
    return Song(
        title="Chart", key=key, meter=read_meter(meter), tempo=tempo, roadmap=("Chart",), sections=(section,),
        doubts=tuple(_doubts(draft.words)), source="chart",
    )  # fmt: skip


def _bars(sheet: Sheet, draft: Draft, text: str) -> tuple[Bar, ...]:
    read_bars(text, draft)
    bars = framed(draft)
    sheet.faults += draft.faults
    return bars


def _sections(sheet: Sheet, table: Table, head: Head, words: list[Word]) -> tuple[Section, ...]:
    found = sheet.table(table, ("sections",))
    if not found:
        sheet.at_key(("sections",), "there are no sections", "write [sections.Verse] and its bars under it")
    return tuple(_section(sheet, found, name, head, words) for name in found)


def _section(sheet: Sheet, sections: Table, name: str, head: Head, words: list[Word]) -> Section:
    path = ("sections", name)
    table = sheet.table(sections, path)
    if not name.strip() or not name.isprintable():
        sheet.at_key(path, "a section without a name", 'write [sections.Verse] or [sections."Verse 2"]')
    if len(name) > LONGEST_NAME:
        sheet.at_key(path, f"a section's name of {len(name)} characters", f"write {LONGEST_NAME} at most")
    sheet.unknown(table, path, SECTION_KEYS, "a section")
    meter = _section_meter(sheet, table, path, head.song.meter)
    pickup = sheet.beats(table, (*path, "pickup"), Fraction(0))
    if not 0 <= pickup < meter.beats:
        sheet.at_value((*path, "pickup"), f"a pickup of {float(pickup):g} beats", f"less than a bar of {meter}")
        pickup = Fraction(0)
    key = sheet.key_name(table, (*path, "key")) if "key" in table else ""
    text = sheet.text(table, (*path, "bars"), needed='the bars, as in bars = "| Dm7 | G7 | C6 |"')
    wording = replace(head.wording, key=key or head.wording.key)
    draft = Draft(meter, reader_of(wording), lambda offset: sheet.places.inside(offset, *path, "bars"), pickup)
    bars = _bars(sheet, draft, text)
    words += draft.words
    if text.strip() and not bars and not draft.faults:
        sheet.at_value((*path, "bars"), f"{name} has no bars", 'write them as in bars = "| Dm7 | G7 | C6 |"')
    cue, until = sheet.line(table, (*path, "cue")), sheet.line(table, (*path, "until"))
    tempo = sheet.number(table, (*path, "tempo"), head.song.tempo, SLOWEST, FASTEST)
    comp = read_comp(sheet, table, (*path, "comp"))
    section = Section(name, bars, cue, pickup, key, until, pace_of(tempo, head.song.tempo), comp)
    tune = () if draft.faults else read_tune(sheet, table, (*path, "tune"), key or head.song.key, meter, section)
    voicing = read_section_voicing(sheet, table, path)
    pattern = read_left_hand(sheet, table, (*path, "left_hand"))
    whose = read_whose(sheet, table, (*path, "tune_is"))
    return replace(section, tune=tune, tune_is=whose, voicing=voicing, left_hand=pattern)


def _section_meter(sheet: Sheet, table: Table, path: tuple[str | int, ...], meter: Meter) -> Meter:
    return sheet.meter(table, (*path, "meter"), meter) if "meter" in table else meter


def _roadmap(sheet: Sheet, table: Table, sections: tuple[Section, ...]) -> tuple[str, ...]:
    names = tuple(section.name for section in sections)
    value = table.get("roadmap")
    if value is None or not names:
        return names
    before = len(sheet.faults)
    played: list[str] = []
    if isinstance(value, list) and all(isinstance(item, str) for item in value):
        for number, item in enumerate(value):
            answer = read_entry(item.strip(), 0, names)
            if isinstance(answer, Slip):
                sheet.at_value(("roadmap", number), answer.found, answer.hint)
            else:
                played.extend(answer)
    else:
        words, slips = read_roadmap(sheet.text(table, ("roadmap",)), names)
        played.extend(words)
        for slip in slips:
            sheet.at_place(sheet.places.inside(slip.offset, "roadmap"), slip.found, slip.hint)
    if not played and len(sheet.faults) == before:
        sheet.at_value(("roadmap",), "the roadmap plays nothing", f'write it as in roadmap = "{", ".join(names)}"')
    for name in names:
        if name not in played and len(sheet.faults) == before:
            remark = "is never played: the roadmap leaves it out"
            sheet.notes.append((*sheet.places.key("sections", name), name, remark))
    return tuple(played)


def _check_length(sheet: Sheet, sections: tuple[Section, ...], roadmap: tuple[str, ...]) -> None:
    lengths = {section.name: _chords(section) for section in sections}
    total = sum(lengths.get(name, 0) for name in roadmap)
    if total > MOST_STEPS:
        sheet.at_key(("roadmap",), f"the song plays {total} chords", "look at the times in the roadmap and the repeats")


def _chords(section: Section) -> int:
    """Return no fewer chords than one pass of the section plays."""
    most = max((bar.repeat_times for bar in section.bars), default=0)
    return sum(len(bar.events) for bar in section.bars) * max(1, most)


def _doubts(words: Iterable[Word]) -> list[tuple[int, int, str, str]]:
    """Return each doubtful symbol where it is written first."""
    seen: dict[str, tuple[int, int, str, str]] = {}
    for word in words:
        if word.chord and word.chord.reading:
            seen.setdefault(word.text, (word.line, word.column, word.text, word.chord.reading))
    return list(seen.values())


def _mixed_names(words: Iterable[Word]) -> list[tuple[int, int, str, str]]:
    """Return a note on a chart that has both H and Bb: one of them was written by another hand."""
    read = [word for word in words if word.chord]
    first_h = next((word for word in read if word.text[:1] in ("H", "h")), None)
    flat = next((word for word in read if word.text[:2] in ("Bb", "B♭")), None)
    if not first_h or not flat:
        return []
    remark = f"stands in the same chart as {flat.text}: is B meant as B flat or as B natural?"
    return [(first_h.line, first_h.column, first_h.text, remark)]
