"""Pasted chart text read as a song: bars with bar lines, numbers, or chords over words, for which bars are proposed.

Nothing is guessed silently: every key, bar or chord that had to be decided is listed with its line.
"""

import re
from dataclasses import replace

from engine.chord.house_rules import HouseRules
from engine.errors import ChartError
from engine.formats.chart_text.bars import are_numbers
from engine.formats.chart_text.chart import LONGEST_CUE, Chart, begin, song_file
from engine.formats.chart_text.chord_lines import MOST_A_BAR, propose_bars, take_bars
from engine.formats.chart_text.form import Part, form_of, take_ways
from engine.formats.chart_text.key_changes import turn, unused
from engine.formats.chart_text.key_guess import key_of
from engine.formats.chart_text.lines import LONGEST_LINE, Line, is_chord, lines_of
from engine.formats.chart_text.spoken_form import form_line, order_of, played_again
from engine.formats.chart_text.tidying import QUOTED, tidied
from engine.formats.import_choices import AS_READ, Answers, Choice
from engine.formats.import_result import Imported, NotImported, imported
from engine.song.model import Song
from engine.song.reader import read_song
from engine.song.transposing import transpose
from engine.song.writing import write_song
from engine.theory.key import Key, read_key, sensible

LARGEST = 100_000
MOST_LINES = 1000
MOST_WORDS = 5000
"""Characters, lines with chords and words in them beyond which a text is no chart of one song (own choice)."""

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
            take_bars(chart, line)
        elif line.kind == "chords" and not barred:
            chart.waiting.clear()
            propose_bars(chart, line)
        elif line.kind == "chords":
            chart.doubts.append(f"line {line.number}: chords without bar lines were left out: {line.text[:40]}")
        elif line.kind == "words":
            _words(chart, line, barred)
    unused(chart)


def _section(chart: Chart, line: Line) -> None:
    """Begin a section; what is said behind its name is a way of the form, or its cue."""
    part = begin(chart, line.name, line.times)
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
    begin(chart, again[0], max(1, again[1]))
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


def _imported(chart: Chart, name: str) -> Imported:
    parts, order = form_of(chart.parts, chart.doubts)
    order = _ordered(chart, parts, order)
    if chart.unsung:
        chart.doubts.append(f"the words of these lines were left out: {', '.join(chart.unsung)}")
    key = key_of(chart, parts)
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


def _sounding(song: Song, chart: Chart) -> Song:
    """Return the song a capo higher: a guitarist's shapes are not what sounds."""
    old = read_key(song.key)
    new = sensible(Key(old.tonic.up((chart.head.capo * 7 + 5) % 12 - 5), old.minor))
    remark = f"capo {chart.head.capo}: shapes in {song.key}, written here as they sound, in {new}"
    chart.doubts.insert(0, remark)
    return transpose(song, str(new))
