"""An ABC notation file read as a song: its tune, the chords in quotes over it, key, meter, tempo, parts and repeats.

Source: the ABC music standard 2.1 (2011). Of several tunes the first is read, of several voices the first.
"""

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from engine.chord.symbol import is_silence, read_symbol
from engine.errors import ChartError, SymbolError
from engine.formats.abc.head import AbcHead, read_abc_head
from engine.formats.abc.parts import part_order
from engine.formats.import_choices import AS_READ, Answers
from engine.formats.import_result import Imported, NotImported, imported
from engine.song.abc_notes import AbcTune, read_abc_notes
from engine.song.model import Bar, Event, Section, Song
from engine.song.reader import read_song
from engine.song.tune import timed_over
from engine.song.writing import write_song
from engine.theory.key import Key
from engine.theory.meter import Meter
from engine.theory.meter import meter as read_meter

_ABC = re.compile(r"(?:\A|\n)X:[ \t]*\d[^\n]*\n(?:[^\n]*\n)*?K:")


def is_abc(text: str) -> bool:
    """Return whether a text is an ABC file: a tune's number, and its key further on."""
    return _ABC.search(text.replace("\r\n", "\n")) is not None


def song_from_abc(text: str, name: str = "", answers: Answers = AS_READ) -> Imported:
    """Return the song of an ABC file with its file and the doubts; `name` is its title if the tune has none.

    Raises:
        NotImported: no tune, or one without chord symbols.
    """
    head = read_abc_head(text.replace("\r\n", "\n"))
    doubts = list(head.doubts)
    tune = read_abc_notes(head.body, head.key.signature, head.meter, head.unit)
    for offset, found, hint in tune.faults:
        line = head.first_line + head.body.count("\n", 0, offset)
        doubts.append(f"line {line}: {found} ({hint})")
    if not any(words.kind == "chord" for words in tune.words):
        raise NotImported("there are no chord symbols in quotes over this tune", 'write them as in "Dm7"D2 F2')
    song = _song(head, tune, name, doubts)
    return _checked(song, doubts, answers)


def _checked(song: Song, doubts: list[str], answers: Answers) -> Imported:
    """Return the song as its own file reads; repeats that cannot stand in a section are left out and said."""
    text = write_song(song)
    try:
        return imported(read_song(text, ""), text, doubts, [], answers)
    except ChartError as error:
        doubts.append(f"the repeats could not be kept as written, each bar is played once ({error.faults[0].found})")
    plain = tuple(
        replace(one, bars=tuple(replace(bar, repeat_start=False, repeat_times=0, ending=()) for bar in one.bars))
        for one in song.sections
    )
    text = write_song(replace(song, sections=plain))
    try:
        return imported(read_song(text, ""), text, doubts, [], answers)
    except ChartError as error:
        raise NotImported(f"the bars of this tune do not make a chart: {error.faults[0].found}", "mend it") from None


def _song(head: AbcHead, tune: AbcTune, name: str, doubts: list[str]) -> Song:
    bars, pickup = _bars(head, tune, doubts)
    marks = {0: "", **{words.bar: words.text.strip() for words in tune.words if words.kind == "P"}}
    remarks = {words.bar: words.text.strip() for words in tune.words if words.kind == "N" and words.bar in marks}
    cuts = [bar for bar in sorted(marks) if bar < len(bars)]
    sections: list[Section] = []
    labels: list[str] = []
    for place, start in enumerate(cuts):
        end = cuts[place + 1] if place + 1 < len(cuts) else len(bars)
        label = marks[start] or ("A" if len(cuts) == 1 else "Opening")
        labels.append(label)
        named = remarks.get(start, "") or label
        called = named if named not in [one.name for one in sections] else f"{named} {place + 1}"
        own = _framed(bars[start:end], tune, start, 1 if pickup and start == 0 else 0)
        upbeat = pickup if start == 0 else Fraction(0)
        part = AbcTune(notes=[replace(note, bar=note.bar - start) for note in tune.notes if start <= note.bar < end])
        section = Section(called, own, pickup=upbeat, tune=timed_over(part, own, upbeat))
        sections.append(section)
    names = [section.name for section in sections]
    roadmap = part_order(head.order, labels, names, doubts)
    key = str(Key(head.key.tonic, head.key.minor))
    return Song(
        head.title or name or "Imported", key, head.meter, head.tempo, roadmap=roadmap, sections=tuple(sections)
    )


def _bars(head: AbcHead, tune: AbcTune, doubts: list[str]) -> tuple[list[Bar], Fraction]:
    """Return the bars with their chords, without repeats, and the beats of the pickup."""
    meters = {words.bar: words.text for words in tune.words if words.kind == "M"}
    chords: dict[int, dict[Fraction, str]] = {}
    for words in tune.words:
        if words.kind == "chord":
            chords.setdefault(words.bar, {})[words.at] = words.text
    meter, sounding, pickup = head.meter, "N.C.", Fraction(0)
    bars: list[Bar] = []
    for number, written in enumerate(tune.bars):
        try:
            meter = read_meter(meters[number]) if number in meters else meter
        except ValueError:
            doubts.append(f"the meter {meters[number].strip()} in bar {number + 1} was passed over")
        length = written.length if written.length > 0 else meter.bar_quarters
        if number == 0 and length < meter.bar_quarters:
            pickup, own = length / meter.beat_quarters, meter
        else:
            own = _meter_of(length, meter, number, doubts)
        beats = {at / own.beat_quarters: symbol for at, symbol in chords.get(number, {}).items() if at < length}
        events, sounding = _events(beats, sounding, own, length / own.beat_quarters, number, doubts)
        bars.append(Bar(own, events))
    return bars, pickup


def _meter_of(length: Fraction, meter: Meter, number: int, doubts: list[str]) -> Meter:
    """Return the meter of a bar as it is filled: a shorter or longer one has one of its own."""
    if length == meter.bar_quarters:
        return meter
    for lower in (meter.lower, 8, 16):
        count = length * lower / 4
        if count.denominator == 1 and 1 <= count <= 32:
            return Meter(int(count), lower)
    doubts.append(f"bar {number + 1} is {length} quarters long, which no meter has; it was taken for a bar of {meter}")
    return meter


def _events(
    beats: dict[Fraction, str], sounding: str, meter: Meter, length: Fraction, number: int, doubts: list[str]
) -> tuple[tuple[Event, ...], str]:
    """Return the chords of one bar, what sounds at its beginning carried over, and what sounds at its end."""
    starts = beats if Fraction(0) in beats else {Fraction(0): sounding, **beats}
    places = sorted(starts)
    events: list[Event] = []
    for place, until in zip(places, [*places[1:], length], strict=True):
        symbol = starts[place].strip()
        symbol = symbol[1:-1] if symbol[:1] == "(" and symbol[-1:] == ")" else symbol
        try:
            chord = None if is_silence(symbol) else read_symbol(symbol)
        except SymbolError as error:
            doubts.append(f"bar {number + 1}: {symbol} is no chord symbol ({error.hint}); N.C. stands there")
            symbol, chord = "N.C.", None
        sounding = symbol = "N.C." if chord is None else symbol
        events.append(Event(meter.beats - length + 1 + place, until - place, symbol, chord))
    return tuple(events), sounding


@dataclass(slots=True)
class _Frame:
    """Where the repeat being read starts, its first bar from 0, and the ending under the pen."""

    start: int
    ending: tuple[int, ...] = ()


def _framed(bars: list[Bar], tune: AbcTune, first: int, after_pickup: int) -> tuple[Bar, ...]:
    """Return the bars of one section with their repeats and endings."""
    told = list(bars)
    frame = _Frame(after_pickup)
    for place in range(len(told)):
        written = tune.bars[first + place]
        opens = written.opens.endswith(":") or written.opens == "::"
        if opens and place > 0 and not written.turns:
            frame = _Frame(place)
        elif opens:
            frame.start = place
        if written.turns:
            frame.ending = _turns(written.turns)
        told[place] = replace(told[place], ending=frame.ending)
        if written.closes.startswith(":"):
            told[frame.start] = replace(told[frame.start], repeat_start=True)
            told[place] = replace(told[place], repeat_times=max((2, *frame.ending)))
            last = not frame.ending or 1 not in frame.ending
            frame.ending = ()
            if last:
                frame.start = place + 1
        elif frame.ending and written.closes in ("||", "|]"):
            frame = _Frame(place + 1)
    return tuple(told)


def _turns(text: str) -> tuple[int, ...]:
    """Return the passes of an ending: 1, 1,3 or 1-3."""
    found: list[int] = []
    for first, last in re.findall(r"(\d{1,2})(?:-(\d{1,2}))?", text):
        found += range(int(first), int(last or first) + 1)
    return tuple(found[:16])
