"""A MusicXML 4.0 lead sheet (.musicxml, .mxl) read as a song.

Chord symbols, key, meter, tempo, repeats, endings, jumps, the melody and the first words sung of each section come in.
Source: MusicXML 4.0 (W3C).
"""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from xml.etree.ElementTree import Element

from engine.chord.symbol import read_symbol
from engine.errors import ChartError, SymbolError
from engine.formats.import_choices import AS_READ, Answers
from engine.formats.import_result import Imported, NotImported, imported
from engine.formats.musicxml_in.form_doubts import form_doubts
from engine.formats.musicxml_in.measure import Measure
from engine.formats.musicxml_in.measures import GRID, read_part
from engine.formats.musicxml_in.mending import mend_codas, mend_endings, mend_pickups, mend_times
from engine.formats.musicxml_in.playing_order import Frame, frames_of, playing_order
from engine.formats.musicxml_in.sections import Block, cut
from engine.formats.musicxml_in.tempos import steady
from engine.formats.musicxml_in.xml import score_tree, text_of
from engine.song.model import Bar, Event, Section, Song, TuneNote
from engine.song.reader import read_song
from engine.song.section_tempo import pace_of
from engine.song.writing import quoted, write_song
from engine.theory.meter import Meter

USUAL_TEMPO = 120.0
"""Beats a minute where no tempo is written: what a MIDI file without one plays at. Source: Standard MIDI Files 1.0."""
CUE_WORDS = 5
"""Words sung that make a section's cue (own choice)."""
LONGEST_CUE = 80
"""Characters kept of words that become a section's cue (own choice)."""


def song_from_musicxml(data: bytes, name: str = "", answers: Answers = AS_READ) -> Imported:
    """Return the song of a lead sheet with its file and the doubts; `name` is its title if the score has none.

    Raises:
        NotImported: no MusicXML, damaged, or without chord symbols.
    """
    root = score_tree(data)
    if root.tag not in ("score-partwise", "score-timewise"):
        raise NotImported(f"this is XML, but no MusicXML score (it begins with <{root.tag[:30]}>)", "export MusicXML")
    measures, doubts = chart_of(root)
    frames, order, more = walk(measures)
    mend_pickups(measures)
    doubts += steady(measures)
    blocks, roadmap = cut(measures, frames, order)
    played = set(roadmap)
    doubts += more
    doubts += [f"measure {measures[block.start].number}: {block.name} is never played" for block in blocks
               if block.name not in played]  # fmt: skip
    song = replace(_song(root, measures, blocks, name, doubts), roadmap=tuple(roadmap))
    return _checked(_shared(song, blocks), doubts, answers)


def walk(measures: Sequence[Measure]) -> tuple[list[Frame], list[int], list[str]]:
    """Return the repeats of a part, its measures as played (places from 0), and the doubts; signs are mended."""
    mend_codas(measures)
    doubts = mend_endings(measures) + mend_times(measures)
    pickup = _pickup(measures)
    frames = frames_of(measures, pickup > 0)
    order, more = playing_order(measures, frames)
    if pickup and frames and frames[0].start == 1 and not measures[1].forward:
        more.append("the first repeat goes back to the first whole measure, the pickup is played once")
    return frames, order, doubts + more + form_doubts(measures, frames, order)


def _shared(song: Song, blocks: list[Block]) -> Song:
    """Return the song with each section once: one marked again with the same bars is played again."""
    kept: list[tuple[str, Section]] = []
    called: dict[str, str] = {}
    for block, section in zip(blocks, song.sections, strict=True):
        alike = (one.name for base, one in kept if base == block.mark and _same(one, section))
        name = next(alike, "") if block.mark else ""
        called[section.name] = name or section.name
        if not name:
            kept.append((block.mark, section))
    sections = tuple(section for _, section in kept)
    return replace(song, sections=sections, roadmap=tuple(called[name] for name in song.roadmap))


def _same(one: Section, other: Section) -> bool:
    """Return whether two sections have the same bars, whatever is sung over them."""
    return replace(one, name=other.name, cue=other.cue, tune=other.tune) == other


def chart_of(root: Element) -> tuple[list[Measure], list[str]]:
    """Return the measures of the part that has the chords; signs of the form may stand in another part."""
    parts = read_parts(root)
    charts = [sum(len(measure.chords) for measure in measures) for measures, _ in parts]
    if not any(charts):
        raise NotImported("there are no chord symbols in this score", "export the lead sheet with its chord symbols")
    at = charts.index(max(charts))
    chart, doubts = parts[at]
    for other, (measures, _) in enumerate(parts):
        if other != at:
            for mine, theirs in zip(chart, measures, strict=False):
                _lend(mine, theirs)
    singer = max(parts, key=lambda part: sum(len(measure.sung) for measure in part[0]))[0]
    if singer is not chart and any(measure.sung for measure in singer):
        for mine, theirs in zip(chart, singer, strict=False):
            mine.notes, mine.tune, mine.lyrics = theirs.notes, theirs.tune, theirs.lyrics
    _name(chart)
    return chart, doubts


def _name(measures: list[Measure]) -> None:
    """Let sections be named by rehearsal marks, or by words such as Verse where there are none."""
    marked = any(measure.rehearsal for measure in measures)
    for measure in measures:
        if marked and measure.section:
            measure.words.append(measure.section)
        elif not marked:
            measure.rehearsal = measure.section


def read_parts(root: Element) -> list[tuple[list[Measure], list[str]]]:
    """Return the measures of each part of a score, and the doubts about them."""
    return [read_part(part) for part in parts_of(root)]


def _lend(mine: Measure, theirs: Measure) -> None:
    """Take from another part what this one does not say of the form."""
    for name in ("rehearsal", "words", "until", "comp", "left_hand", "tempo", "segno", "coda", "to_coda", "fine",
                 "jump", "target", "swing", "forward", "backward", "ending", "ending_stops", "double",
                 "section"):  # fmt: skip
        if not getattr(mine, name):
            setattr(mine, name, getattr(theirs, name))
    if not mine.length:
        mine.length = theirs.length


def parts_of(root: Element) -> list[Element]:
    """Return the parts; a score by measures is turned into one by parts."""
    if root.tag == "score-partwise":
        return root.findall("part")
    parts: dict[str, Element] = {}
    for measure in root.findall("measure"):
        for part in measure.findall("part"):
            owner = parts.setdefault(part.get("id") or "", Element("part"))
            copy = Element("measure", measure.attrib)
            copy.extend(part)
            owner.append(copy)
    return list(parts.values())


def _pickup(measures: Sequence[Measure]) -> Fraction:
    """Return the beats of an incomplete first measure, 0 where it is whole."""
    first = measures[0]
    length = Fraction(round(first.length * GRID), GRID)
    if len(measures) < 2 or not 0 < length < first.meter.bar_quarters:
        return Fraction(0)
    return length / first.meter.beat_quarters


def _song(root: Element, measures: list[Measure], blocks: list[Block], name: str, doubts: list[str]) -> Song:
    first = measures[0]
    events = _carried(measures, doubts)
    sections = tuple(_section(measures, events, block, first) for block in blocks)
    sections = (replace(sections[0], pickup=_pickup(measures)), *sections[1:]) if blocks[0].start == 0 else sections
    sung = [key for measure in measures for key in measure.notes]
    return Song(
        title=_title(root, name),
        key=str(first.key),
        meter=first.meter,
        tempo=_tempo(measures, doubts),
        feel="swing" if any(measure.swing for measure in measures) else "straight",
        sections=sections,
        melody=(min(sung), max(sung)) if sung else None,
    )


def _title(root: Element, name: str) -> str:
    work = text_of(root.find("work"), "work-title")
    credit = next((words.text for words in root.iterfind("credit/credit-words") if words.text), "")
    found = work or text_of(root, "movement-title") or credit or name or "Imported"
    return "".join(sign for sign in " ".join(found.split()) if sign.isprintable())[:80] or "Imported"


def _tempo(measures: list[Measure], doubts: list[str]) -> float:
    """Return the tempo as a song counts it: quarters, dotted quarters in compound meters."""
    if not any(measure.tempo for measure in measures):
        doubts.append(f"no tempo is written, {USUAL_TEMPO:g} was taken")
        return USUAL_TEMPO
    return measures[0].pace


def _section(measures: list[Measure], events: list[tuple[Event, ...]], block: Block, first: Measure) -> Section:
    inside = block.measures
    frames = {at: frame for frame in block.frames for at in range(frame.start, frame.end)}
    bars = []
    for at in inside:
        frame = frames.get(at)
        times = frame.times if frame and at in frame.closers else 0
        ending = frame.endings.get(at, ()) if frame else ()
        meter = _bar_meter(measures[at]) if at or not _pickup(measures) else first.meter
        bars.append(Bar(meter, events[at], bool(frame and frame.start == at), times, ending))
    tune = _tune(measures, inside, tuple(bars))
    opening = measures[block.start]
    key = str(opening.key) if opening.key != first.key else ""
    leads = opening.length / opening.meter.beat_quarters if opening.pickup else Fraction(0)
    sung = " ".join("".join(measures[at].lyrics for at in inside).split()[:CUE_WORDS])
    cue = ", ".join(dict.fromkeys([*opening.words, *([sung] if sung else [])]))[:LONGEST_CUE]
    pace = pace_of(opening.pace, first.pace) if first.pace else Fraction(1)
    return Section(
        block.name, tuple(bars), cue, leads, key, until=opening.until, pace=pace, comp=opening.comp, tune=tune,
        left_hand=opening.left_hand,
    )  # fmt: skip


def _tune(measures: list[Measure], inside: Sequence[int], bars: tuple[Bar, ...]) -> tuple[TuneNote, ...]:
    """Return the melody over bars in beats from their start; a note ends where its bar or the next note begins."""
    found: list[TuneNote] = []
    start, tied = Fraction(0), False
    for at, bar in zip(inside, bars, strict=True):
        length = sum((event.beats for event in bar.events), Fraction(0))
        notes = sorted(measures[at].tune, key=lambda note: note.at)
        ends = [*(note.at for note in notes[1:]), length * bar.meter.beat_quarters]
        for note, end in zip(notes, ends, strict=False):
            onset, last = start + note.at / bar.meter.beat_quarters, min(note.at + note.lasts, end)
            lasts = (last - note.at) / bar.meter.beat_quarters
            before = found[-1] if found else None
            if lasts <= 0:
                continue
            if tied and before and before.note == note.note and before.onset + before.length == onset:
                found[-1] = replace(before, length=before.length + lasts)
            else:
                found.append(TuneNote(onset, lasts, note.note))
            tied = note.tied
        start += length
    return tuple(found)


def _bar_meter(measure: Measure) -> Meter:
    """Return the meter of a measure as it is filled: a short one in the middle of a song has one of its own."""
    length = Fraction(round(measure.length * GRID), GRID)
    if measure.pickup or not length or length == measure.meter.bar_quarters:
        return measure.meter
    for lower in (measure.meter.lower, 4, 8, 16):
        count = length * lower / 4
        if count.denominator == 1 and 1 <= count <= 32:
            return Meter(int(count), lower)
    return measure.meter


def _carried(measures: list[Measure], doubts: list[str]) -> list[tuple[Event, ...]]:
    """Return the events of every measure: a chord lasts until the next one, over bar lines too."""
    found: list[tuple[Event, ...]] = []
    sounding = "N.C."
    pickup = _pickup(measures)
    for at, measure in enumerate(measures):
        meter = measure.meter if at == 0 and pickup else _bar_meter(measure)
        length = pickup if at == 0 and pickup else Fraction(meter.beats)
        if measure.pickup:
            length = measure.length / meter.beat_quarters
        places = {_beats(place, meter): symbol for place, symbol in measure.chords}
        inside = {place: symbol for place, symbol in sorted(places.items()) if place < length}
        if len(inside) < len(places):
            doubts.append(f"measure {measure.number}: a chord after the end of its bar was left out")
        inside = inside if 0 in inside else {Fraction(0): sounding, **inside}
        marks = {_beats(place, meter): mark for place, mark in measure.marks}
        found.append(_events(inside, length, meter.beats - length + 1, marks))
        sounding = list(inside.values())[-1]
    return found


def _beats(quarters: Fraction, meter: Meter) -> Fraction:
    return Fraction(round(quarters * GRID), GRID) / meter.beat_quarters


def _events(
    places: dict[Fraction, str], length: Fraction, first: Fraction, marks: dict[Fraction, str]
) -> tuple[Event, ...]:
    spots = list(places.items())
    silent = [place for (_, before), (place, now) in pairwise(spots) if before == now == "N.C."]
    places = {place: symbol for place, symbol in spots if place not in silent}
    starts = [*places, length]
    events = []
    for number, (start, symbol) in enumerate(places.items()):
        end = starts[number + 1]
        mark = next((mark for place, mark in marks.items() if start <= place < end), "")
        try:
            chord = read_symbol(symbol)
        except SymbolError:
            symbol, chord = "N.C.", None
        events.append(Event(first + start, end - start, symbol, chord, mark))
    return tuple(events)


def _written(song: Song, doubts: list[str]) -> tuple[str, Song]:
    """Return the song file and the song in it; a tune that the file cannot show stays out, with a doubt."""
    text = write_song(song)
    if any(section.tune for section in song.sections):
        try:
            read_song(text, "")
        except ChartError:
            song = replace(song, sections=tuple(replace(section, tune=()) for section in song.sections))
            doubts.append("the melody does not fit the bars of the chords and was left out")
            text = write_song(song)
    return text, song


def _checked(song: Song, doubts: list[str], answers: Answers) -> Imported:
    """Write the song and read it again: what is handed on is what the file says.

    Symbols that house rules give another meaning are written so that they have it without the rules.
    """
    text, song = _written(song, doubts)
    house = "".join(f"{rule} = {quoted(said)}\n" for rule, said in answers.reading)
    try:
        song = meant = read_song(f"{text}\n[reading]\n{house}", "")
        if house:
            text = write_song(meant)
            song = read_song(text, "")
    except ChartError as error:
        fault = error.faults[0]
        raise NotImported(f"the score has a form that no chart can show ({fault.found})", fault.hint) from None
    return replace(imported(meant, text, doubts, [], answers), song=song)
