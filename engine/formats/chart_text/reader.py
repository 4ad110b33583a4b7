"""Pasted chart text read as a song: bars with bar lines, numbers, or chords over words, for which bars are proposed.

Nothing is guessed silently: every key, bar or chord that had to be decided is listed with its line.
"""

import re
from dataclasses import replace

from engine.chord.house_rules import HouseRules
from engine.chord.model import Chord
from engine.errors import ChartError, SymbolError
from engine.formats.chart_text.bar_numbers import Counting, closing, uncounted
from engine.formats.chart_text.bars import LETTER, Mending, are_bars, are_numbers, mended, opens_with_bar
from engine.formats.chart_text.chart import Chart, song_file
from engine.formats.chart_text.form import Part, form_of, take_ways
from engine.formats.chart_text.key_changes import meter_now, turn, unused
from engine.formats.chart_text.key_guess import likely_keys
from engine.formats.chart_text.lines import LONGEST_LINE, Line, is_chord, lines_of, section_label
from engine.formats.chart_text.spoken_form import form_line, order_of, played_again
from engine.formats.chart_text.tidying import QUOTED, tidied
from engine.formats.import_choices import AS_READ, Answers, Choice
from engine.formats.import_result import Imported, NotImported, imported
from engine.song.chord_names import Wording, reader_of
from engine.song.model import Song
from engine.song.reader import read_song
from engine.song.roadmap import MOST_TIMES
from engine.song.signs import signs
from engine.song.transposing import transpose
from engine.song.writing import write_song
from engine.theory.key import Key, read_key, sensible

LARGEST = 100_000
MOST_LINES = 1000
MOST_WORDS = 5000
"""Characters, lines with chords and words in them beyond which a text is no chart of one song (own choice)."""
LONGEST_CUE = 40
"""Characters kept of words that become a section's name or cue (own choice)."""
MOST_A_BAR = 4
"""Chords in a bar that is proposed (own choice)."""
LIKELY = 3
"""Keys that are offered where none is written (own choice)."""

_FIRST_BAR = re.compile(r":?\|+:?|\[\d")
_NAME_METER = re.compile(r"(?P<name>.+?)[\s(:]+(?P<meter>\d{1,2}/(?:2|4|8|16))\)?:?")
_GERMAN = re.compile(r"(?:^|[\s|(/])(?:H|[CDFGAH]is|[DGAEH]e?s)(?=m|[0-9]|\s|\||$)")


def song_from_text(text: str, name: str = "", answers: Answers = AS_READ) -> Imported:
    """Return the song of a pasted chart with its file and the doubts.

    Args:
        text: with bar lines, or chords over (or in brackets inside) words.
        name: the title where the text has none.
        answers: how it is meant where it does not say.

    Raises:
        NotImported: no chords in it.
        ChartError: bars that cannot be read; lines and columns count in `text`.
    """
    if len(text) > LARGEST:
        raise NotImported("the text is far too long for a chart", "is it the right file?")
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    long = next((number for number, line in enumerate(text.split("\n"), 1) if len(line) > LONGEST_LINE), 0)
    if long:
        raise NotImported(f"line {long} is far too long for a line of a chart", "break it at its bar lines")
    text, tidying = tidied(text)
    text = text.replace("\t", "    ")
    german = bool(_GERMAN.search(_chords_only(text)))
    rules = answers.rules("german" if german else "english")
    lines, head = lines_of(text, rules)
    chords = [line for line in lines if line.kind in ("bars", "chords")]
    if len(chords) > MOST_LINES or sum(len(line.text.split()) for line in chords) > MOST_WORDS:
        raise NotImported("the text has far more chords than one song", "import its songs one by one")
    chart = Chart(head, rules, are_numbers(f"| {line.text} |" for line in chords), answers)
    chart.doubts += tidying
    if german and any(re.search(r"(?:^|[\s|(/])B(?![a-z]*[a-z]{3})", line.text) for line in chords):
        chart.doubts.append("German names: H is B natural, so B is read as B flat")
    chart.doubts += [f"the heading says {remark[:40]!r}, which was left out" for remark in head.other if remark]
    _gather(chart, lines)
    if not any(part.bars for part in chart.parts):
        raise NotImported("there are no chords in this text", 'write them as in "| Dm7 | G7 | C6 |"')
    return _imported(chart, name)


def _chords_only(text: str) -> str:
    """Return the lines of chords: the words of others would be taken for German names of notes."""
    german = HouseRules(names="german")
    return "\n".join(
        line for line in text.split("\n") if "|" in line or all(is_chord(word, german) for word in line.split())
    )


def _gather(chart: Chart, lines: list[Line]) -> None:
    barred = any(line.kind == "bars" for line in lines)
    for line in lines:
        if line.kind == "section":
            _section(chart, line)
        elif line.kind == "head" and line.turns:
            turn(chart, line)
        elif line.kind == "bars":
            chart.waiting.clear()
            _bars(chart, line)
        elif line.kind == "chords" and not barred:
            chart.waiting.clear()
            _propose(chart, line)
        elif line.kind == "chords":
            chart.doubts.append(f"line {line.number}: chords without bar lines were left out: {line.text[:40]}")
        elif line.kind == "words":
            _words(chart, line, barred)
    unused(chart)


def _begin(chart: Chart, name: str, times: int = 1) -> Part:
    part = Part(name, max(1, min(MOST_TIMES, times)), ways=dict(chart.ways), turns=dict(chart.turns))
    chart.ways.clear()
    chart.parts.append(part)
    chart.before = ""
    return part


def _section(chart: Chart, line: Line) -> None:
    """Begin a section; what is said behind its name is a way of the form, or its cue."""
    part = _begin(chart, line.name, line.times)
    if line.remark and not take_ways(part, line.remark):
        part.cue = line.remark[:LONGEST_CUE]


def _words(chart: Chart, line: Line, barred: bool) -> None:
    """Take words: ways of the form, the title of the first line, or what is sung first as a cue."""
    part = chart.parts[-1] if chart.parts else None
    if _spoken(chart, line):
        return
    if part and take_ways(part, line.text):
        return
    waiting = Part("")
    if part is None and len(line.text.split()) <= 4 and take_ways(waiting, line.text):
        chart.ways |= waiting.ways
    elif not chart.head.title and part is None and not line.text.startswith("#"):
        chart.head.title = line.text[:80]
    elif part and not barred and part.bars and not part.cue:
        part.cue = " ".join(line.text.split())[:LONGEST_CUE]
    elif part and not barred:
        chart.unsung.append(f"{line.number} {line.text[:QUOTED]!r}")
    else:
        chart.doubts.append(f"line {line.number}: the words {line.text[:QUOTED]!r} were left out")


def _spoken(chart: Chart, line: Line) -> bool:
    """Take a form in words: the order of the sections, or one that is played again."""
    if form := form_line(line.text):
        chart.form, chart.form_line = form, line.number
        return True
    again = played_again(line.text, [part.name for part in chart.parts])
    if again is None:
        return False
    _begin(chart, again[0], max(1, again[1]))
    chart.doubts.append(f"line {line.number}: {line.text[:QUOTED]!r} read as {again[0]} x{max(1, again[1])}")
    return True


def _ordered(chart: Chart, parts: list[Part], order: list[str]) -> list[str]:
    """Return the order that a form in words gives, or the one that is there; what is not read of it is a doubt."""
    if not chart.form:
        return order
    played, rest = order_of(chart.form, [part.name for part in parts])
    if rest:
        chart.doubts.append(f"line {chart.form_line}: of the form, {rest[:QUOTED]!r} was not read")
    return played or order


def _bars(chart: Chart, line: Line) -> None:
    if chart.parts and chart.parts[-1].turns != chart.turns and not section_label(line.text.split("|")[0]):
        _begin(chart, chart.parts[-1].name)
    text = _uncounted(chart, line)
    first = _FIRST_BAR.search(text)
    before = _own_meter(chart, text[: first.start()].strip() if first else "")
    bars = text[first.start() :] if first else text
    later = bool(chart.parts and chart.parts[-1].bars)
    mending = Mending(meter_now(chart), chart.rules, chart.numbers, line.number, chart.before)
    named, opening = _name_and_bar(before, mending)
    if opening:
        before, bars = named, f"| {opening} {bars}"
    next_letter = bool(chart.letter) and before == chr(ord(chart.letter) + 1)
    if not next_letter and opens_with_bar(before, bars, later, mending):
        before, bars = "", f"| {before} {bars}"
    label, pickup = _label(chart, before, line.number)
    if label:
        _begin(chart, *label)
        chart.letter = before if len(before) == 1 else ""
    elif not chart.parts:
        _begin(chart, "A")
    part = chart.parts[-1]
    if before:
        take_ways(part, re.sub(r"\bcoda\b", "", before, flags=re.IGNORECASE))
    mending.before = chart.before
    if pickup and part.bars:
        chart.doubts.append(f"line {line.number}: {pickup} before the first bar line was left out")
    elif pickup:
        bars = f"{_opening(chart, part, pickup, line.number)} {bars}"
    text = mended(bars, mending)
    chart.before = mending.before
    chart.doubts += mending.doubts
    if mending.words and not take_ways(part, mending.words):
        chart.doubts.append(f"line {line.number}: the words {mending.words[:40]!r} were left out")
    if text.strip():
        part.bars.append((line.number, text))
        part.counting.after(text)


def _own_meter(chart: Chart, before: str) -> str:
    """Take the meter from a section's name, as in `B 7/8 | Am |`; it holds for that section. Return the name."""
    found = _NAME_METER.fullmatch(before)
    if found and section_label(found["name"]):
        chart.turns["meter"] = found["meter"]
        if found["meter"] == (chart.head.meter or "4/4"):
            chart.turns.pop("meter")
        chart.labelled_meter = True
        return found["name"].strip()
    if chart.labelled_meter and section_label(before):
        chart.turns.pop("meter", None)
        chart.labelled_meter = False
    return before


def _uncounted(chart: Chart, line: Line) -> str:
    """Return the text of a line of bars without bar numbers, and with endings as signs."""
    part = chart.parts[-1] if chart.parts else None
    place = part.counting if part else Counting()
    ending = place.ending
    text = uncounted(line.text, chart.numbers, place)
    for told in place.told:
        if not any(doubt.endswith(told) for doubt in chart.doubts):
            chart.doubts.append(f"line {line.number}: {told}")
    if place.told and not part:
        part = _begin(chart, "A")
        part.counting = place
    place.told.clear()
    if part and place.unclosed and place.ending == ending + 1 > 1 and part.bars:
        number, before = part.bars[-1]
        part.bars[-1] = (number, closing(before))
    return text


def _opening(chart: Chart, part: Part, chord: str, number: int) -> str:
    """Return the first bar that a chord before the first bar line makes: a pickup, or a bar of its own."""
    part.pickup = chart.answers.opening == "pickup"
    ways = ("a pickup of one beat", "a bar of its own")
    now, instead = ways if part.pickup else ways[::-1]
    doubt = f"line {number}: {chord} before the first bar line, read as {now}"
    other = replace(chart.answers, opening="bar" if part.pickup else "pickup")
    chart.doubts.append(doubt)
    chart.choices.append(Choice(doubt, instead, other))
    return chord if part.pickup else f"| {chord}"


def _name_and_bar(before: str, mending: Mending) -> tuple[str, str]:
    """Return a section's name and the bar that follows it, as in `A: Cm7 | F7`, or all of it and no bar."""
    words = before.split()
    for at in range(1, len(words)):
        name, bar = " ".join(words[:at]), " ".join(words[at:])
        if section_label(name) and not LETTER.fullmatch(name) and are_bars(bar, mending):
            return name, bar
    return before, ""


def _label(chart: Chart, before: str, number: int) -> tuple[tuple[str, int] | None, str]:
    """Return (section, pickup chord) of what stands before the first bar line."""
    words = re.sub(r"^(?:sign|segno)\b|\bto coda\b", "", before, flags=re.IGNORECASE).strip()
    if not words:
        return None, ""
    chord = words.strip("() ")
    mending = Mending(meter_now(chart), chart.rules, chart.numbers, number)
    if words.startswith("(") and mending.reads(chord):
        return None, chord
    if mending.reads(chord) and not LETTER.fullmatch(words):
        return None, chord
    if section := section_label(words):
        return section, ""
    return (" ".join(words.strip(" :[]").split())[:LONGEST_CUE] or "A", 1), ""


def _propose(chart: Chart, line: Line) -> None:
    """Make bars of a line of chords over words."""
    part = chart.parts[-1] if chart.parts else _begin(chart, "A")
    if part.turns != chart.turns:
        part = _begin(chart, part.name)
    chart.proposed = True
    words = line.text.split()
    each = max(1, min(MOST_A_BAR, chart.answers.per_bar))
    bars = [" ".join(words[at : at + each]) for at in range(0, len(words), each)]
    mending = Mending(meter_now(chart), chart.rules, chart.numbers, line.number)
    text = mended(f"| {' | '.join(bars)} |", mending)
    chart.doubts += mending.doubts
    part.bars.append((line.number, text))


def _imported(chart: Chart, name: str) -> Imported:
    parts, order = form_of(chart.parts, chart.doubts)
    order = _ordered(chart, parts, order)
    if chart.unsung:
        chart.doubts.append(f"the words of these lines were left out: {', '.join(chart.unsung)}")
    key = _key(chart, parts)
    text, places = song_file(chart, parts, order, key, name)
    try:
        song = read_song(text, "")
    except ChartError as error:
        faults = tuple(replace(fault, line=places.get(fault.line, 1)) for fault in error.faults)
        raise ChartError(name or "the text", faults) from None
    if chart.head.capo:
        written = song.doubts
        text = write_song(_sounding(song, chart))
        song = replace(read_song(text, ""), doubts=written)
    if chart.proposed:
        _doubt_bars(chart)
    return imported(song, text, chart.doubts, chart.choices, chart.answers)


def _doubt_bars(chart: Chart) -> None:
    """Say how many chords a bar are proposed, and offer twice as many."""
    now = chart.answers.per_bar
    following = now * 2 if now * 2 <= MOST_A_BAR else 1
    doubt = f"there were no bar lines: {_a_bar(now)} {'are' if now > 1 else 'is'} proposed, listen and mend"
    chart.doubts.insert(0, doubt)
    chart.choices.insert(0, Choice(doubt, _a_bar(following), replace(chart.answers, per_bar=following)))


def _a_bar(count: int) -> str:
    return f"{count} chords a bar" if count > 1 else "one chord a bar"


def _key(chart: Chart, parts: list[Part]) -> str:
    if chart.head.key:
        return chart.head.key
    if chart.numbers:
        chart.doubts.append("numbers without a key: C was taken")
        return "C"
    likely = [str(key) for key in likely_keys(_chords(chart, parts))[:LIKELY]]
    key = chart.answers.key or likely[0]
    doubt = f"no key is written, {key} was taken from its chords"
    following = likely[(likely.index(key) + 1) % len(likely)] if key in likely else likely[0]
    chart.doubts.append(doubt)
    chart.choices.append(Choice(doubt, following, replace(chart.answers, key=following)))
    return key


def _chords(chart: Chart, parts: list[Part]) -> list[Chord]:
    read = reader_of(Wording(chart.rules))
    found: list[Chord] = []
    for part in parts:
        for _, bars in part.bars:
            for sign in signs(bars):
                try:
                    chord = read(sign.text)[1] if sign.kind == "chord" else None
                except SymbolError:
                    chord = None
                found += [chord] if chord else []
    return found


def _sounding(song: Song, chart: Chart) -> Song:
    """Return the song a capo higher: a guitarist's shapes are not what sounds."""
    old = read_key(song.key)
    new = sensible(Key(old.tonic.up((chart.head.capo * 7 + 5) % 12 - 5), old.minor))
    remark = f"capo {chart.head.capo}: shapes in {song.key}, written here as they sound, in {new}"
    chart.doubts.insert(0, remark)
    return transpose(song, str(new))
