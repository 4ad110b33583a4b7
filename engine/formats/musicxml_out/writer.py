"""A planned song as a MusicXML grand staff: both hands with fingering, chord symbols, sections, repeats.

Source: MusicXML 4.0 (W3C). Uncompressed, one part of two staves.
"""

from collections.abc import Iterable
from fractions import Fraction
from math import lcm
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from engine.formats.musicxml_out.accidentals import add_accidentals
from engine.formats.musicxml_out.harmony import harmony
from engine.formats.musicxml_out.lengths import written
from engine.formats.musicxml_out.measures import Measure, measures
from engine.formats.musicxml_out.staves import Staff, add_hand
from engine.planning.model import Plan, PlannedStep
from engine.song.model import Song, Step
from engine.song.section_tempo import tempo_of
from engine.theory.key import read_key
from engine.theory.meter import Meter

HEAD = (
    '<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n'
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN"'
    ' "http://www.musicxml.org/dtds/partwise.dtd">\n'
)


def musicxml(song: Song, plan: Plan) -> bytes:
    """Return a MusicXML file of the song as planned, section after section in the order of its roadmap.

    A repeat inside a section stays a repeat where every turn is played alike; otherwise its turns are written out.
    """
    score = Element("score-partwise", {"version": "4.0"})
    SubElement(SubElement(score, "work"), "work-title").text = printable(song.title)
    encoding = SubElement(SubElement(score, "identification"), "encoding")
    SubElement(encoding, "software").text = "stillhand"
    part = SubElement(SubElement(score, "part-list"), "score-part", {"id": "P1"})
    SubElement(part, "part-name").text = "Keyboard"
    _part(SubElement(score, "part", {"id": "P1"}), song, measures(song, plan))
    indent(score)
    return (HEAD + tostring(score, encoding="unicode") + "\n").encode("utf-8")


def printable(text: str) -> str:
    """Return a text without the control characters that XML cannot hold."""
    return "".join(sign for sign in text if sign in "\t\n\r" or (ord(sign) >= 32 and not 0xD800 <= ord(sign) < 0xE000))


def _part(part: Element, song: Song, found: tuple[Measure, ...]) -> None:
    divisions = _divisions(found)
    before: Step | None = None
    number = 0
    quarters = 0.0
    if not found:
        rest = SubElement(part, "measure", {"number": "1"})
        SubElement(SubElement(rest, "note"), "rest")
        SubElement(rest[-1], "duration").text = "1"
    for place, measure in enumerate(found):
        number += measure.full
        about = {"number": str(number)} if measure.full else {"number": f"X{place + 1}", "implicit": "yes"}
        element = SubElement(part, "measure", about)
        if measure.first and place:
            SubElement(element, "print", {"new-system": "yes"})
        _left(element, measure)
        _attributes(element, measure.steps[0].step, before, (song, divisions))
        tempo, quarters = (tempo_of(song, measure.steps[0].step), quarters), _quarters_a_minute(song, measure)
        if quarters != tempo[1]:
            _tempo(element, tempo[0], measure.steps[0].step.meter)
        if not place and song.feel != "straight":
            _words(element, song.feel)
            _swing(element[-1])
        _music(element, measure, divisions)
        add_accidentals(element, measure.steps[0].step.key or song.key)
        _right(element, measure, last=place + 1 == len(found))
        before = measure.steps[-1].step


def _divisions(found: Iterable[Measure]) -> int:
    """Return into how many parts a quarter is divided, so that every written value is a whole number of them."""
    lasting = {one.step.beats * one.step.meter.beat_quarters for measure in found for one in measure.steps}
    return lcm(*(length.quarters.denominator for quarters in lasting for length in written(quarters)), 1)


def _attributes(element: Element, step: Step, before: Step | None, settings: tuple[Song, int]) -> None:
    song, divisions = settings
    key, old = step.key or song.key, before and (before.key or song.key)
    if before is not None and key == old and step.meter == before.meter:
        return
    found = SubElement(element, "attributes")
    if before is None:
        SubElement(found, "divisions").text = str(divisions)
    if key != old:
        tonic = read_key(key)
        sign = SubElement(found, "key")
        SubElement(sign, "fifths").text = str(tonic.signature)
        SubElement(sign, "mode").text = "minor" if tonic.minor else "major"
    if before is None or step.meter != before.meter:
        time = SubElement(found, "time")
        SubElement(time, "beats").text = str(step.meter.upper)
        SubElement(time, "beat-type").text = str(step.meter.lower)
    if before is None:
        SubElement(found, "staves").text = "2"
        for number, sign_, line in (("1", "G", "2"), ("2", "F", "4")):
            clef = SubElement(found, "clef", {"number": number})
            SubElement(clef, "sign").text = sign_
            SubElement(clef, "line").text = line


def _quarters_a_minute(song: Song, measure: Measure) -> float:
    step = measure.steps[0].step
    return tempo_of(song, step) * (float(step.meter.beat_quarters) if step.meter.compound else 1)


def _tempo(element: Element, tempo: float, meter: Meter) -> None:
    found = SubElement(element, "direction", {"placement": "above"})
    mark = SubElement(SubElement(found, "direction-type"), "metronome")
    SubElement(mark, "beat-unit").text = "quarter"
    if meter.compound:
        SubElement(mark, "beat-unit-dot")
    SubElement(mark, "per-minute").text = f"{tempo:g}"
    # The sound's tempo counts quarters, whatever the mark counts.
    SubElement(found, "sound", {"tempo": f"{tempo * (1.5 if meter.compound else 1):g}"})


def _music(element: Element, measure: Measure, divisions: int) -> None:
    """Append both hands: the right one with the chord symbols, then back to the start, then the left one."""
    first = measure.steps[0].step
    if measure.first:
        mark = SubElement(element, "direction", {"placement": "above"})
        SubElement(SubElement(mark, "direction-type"), "rehearsal").text = printable(first.section)
        for words in filter(None, (first.cue, first.until and f"till {first.until}")):
            _words(element, words)
    for one in measure.steps:
        element.append(harmony(printable(one.step.symbol), one.step.chord))
        if one.step.mark == "push":
            # No standard sign says that a chord comes early.
            _words(element, one.step.mark)
        add_hand(element, one.right, _quarters(one), Staff(1, divisions), one.step.mark)
    SubElement(SubElement(element, "backup"), "duration").text = str(int(measure.quarters * divisions))
    for one in measure.steps:
        add_hand(element, one.left, _quarters(one), Staff(2, divisions), one.step.mark)


def _quarters(one: PlannedStep) -> Fraction:
    return one.step.beats * one.step.meter.beat_quarters


def _words(element: Element, words: str) -> None:
    found = SubElement(element, "direction", {"placement": "above"})
    SubElement(SubElement(found, "direction-type"), "words").text = printable(words)


def _swing(direction: Element) -> None:
    """Say to programs that play the score what the word says: eighths long and short, 2 to 1."""
    swing = SubElement(SubElement(direction, "sound"), "swing")
    for name, value in (("first", "2"), ("second", "1"), ("swing-type", "eighth")):
        SubElement(swing, name).text = value


def _left(element: Element, measure: Measure) -> None:
    if not (measure.repeat or measure.opens):
        return
    line = SubElement(element, "barline", {"location": "left"})
    if measure.repeat:
        SubElement(line, "bar-style").text = "heavy-light"
    if measure.opens:
        _ending(line, measure, "start")
    if measure.repeat:
        SubElement(line, "repeat", {"direction": "forward"})


def _right(element: Element, measure: Measure, last: bool) -> None:
    if not (measure.times or measure.closes or measure.last):
        return
    line = SubElement(element, "barline", {"location": "right"})
    SubElement(line, "bar-style").text = "light-heavy" if measure.times or last else "light-light"
    if measure.closes:
        _ending(line, measure, "stop" if measure.times else "discontinue")
    if measure.times:
        about = {"direction": "backward"} | ({"times": str(measure.times)} if measure.times > 2 else {})
        SubElement(line, "repeat", about)


def _ending(line: Element, measure: Measure, way: str) -> None:
    numbers = ",".join(map(str, measure.ending))
    SubElement(line, "ending", {"number": numbers, "type": way}).text = f"{numbers}." if way == "start" else None
