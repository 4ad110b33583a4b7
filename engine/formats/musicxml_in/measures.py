"""The measures of a MusicXML part: chords at their places, key, meter, tempo, repeats, jumps and the sung range.

Source: MusicXML 4.0 (W3C). Places and lengths are in quarter notes; pitches are sounding.
"""

import re
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from xml.etree.ElementTree import Element

from engine.formats.import_result import NotImported
from engine.formats.musicxml_in.directions import take_direction, take_sound
from engine.formats.musicxml_in.harmony import read_harmony
from engine.formats.musicxml_in.measure import Measure, Sung
from engine.formats.musicxml_in.xml import text_of, whole
from engine.song.bars import MOST_BARS
from engine.theory.key import Key
from engine.theory.meter import Meter
from engine.theory.meter import meter as read_meter
from engine.theory.pitch import NATURAL, NoteName

MOST_MEASURES = MOST_BARS
"""Measures of a part beyond which a file is no song."""
LONGEST_SYLLABLE, LONGEST_LYRICS = 30, 200
"""Characters of a syllable, and of a measure's words, that are kept (own choice)."""
GRID = 24
"""Parts of a quarter note that chords are placed on (own choice): finer is a player's freedom, not notation."""

MODES = {
    "major": (0, False), "ionian": (0, False), "minor": (3, True), "aeolian": (3, True), "dorian": (2, True),
    "phrygian": (4, True), "lydian": (-1, False), "mixolydian": (1, False), "locrian": (5, True),
}  # fmt: skip
"""Mode -> (fifths from the signature to the tonic, minor). Source: common practice."""

MARKS = {"fermata": "hold", "articulations/caesura": "stop", "tied[@type='let-ring']": "ring"}
"""Notation -> the mark of the chord under it. Source: MusicXML 4.0, <notations>; common practice."""


@dataclass(slots=True)
class _Reading:
    """A part under the eye: what holds from here on, and the doubts so far.

    `waiting` counts the chords without an offset that were written since the last note: they share the next one."""

    meter: Meter = field(default_factory=lambda: Meter(4, 4))
    key: Key = field(default_factory=lambda: Key(NoteName(0)))
    divisions: int = 1
    shift: int = 0
    semitones: int = 0
    staves: int = 1
    here: Fraction = Fraction(0)
    last: Fraction = Fraction(0)
    waiting: int = 0
    doubts: list[str] = field(default_factory=list)


def read_part(part: Element) -> tuple[list[Measure], list[str]]:
    """Return the measures of a part and the doubts about it.

    Raises:
        NotImported: far too many measures.
    """
    reading = _Reading()
    measures: list[Measure] = []
    for element in part.iter("measure"):
        if len(measures) >= MOST_MEASURES:
            raise NotImported(f"more than {MOST_MEASURES} measures", "is it the right file?")
        measures.append(_measure(reading, element, str(len(measures) + 1)))
    return measures, reading.doubts


def _measure(reading: _Reading, element: Element, place: str) -> Measure:
    measure = Measure((element.get("number") or place)[:8], reading.meter, reading.key)
    reading.here = reading.last = Fraction(0)
    reading.waiting = 0
    for item in element:
        step = _STEPS.get(item.tag)
        if step:
            step(reading, measure, item)
    measure.meter, measure.key = reading.meter, reading.key
    _settle(reading, measure)
    return measure


def _attributes(reading: _Reading, measure: Measure, item: Element) -> None:
    reading.divisions = max(1, whole(text_of(item, "divisions"), reading.divisions))
    reading.staves = whole(text_of(item, "staves"), reading.staves)
    move = item.find("transpose")
    if move is not None:
        _transposes(reading, move)
    key = item.find("key")
    if key is not None and key.find("fifths") is not None:
        reading.key = _key(reading, key)
    time = item.find("time")
    if time is not None:
        reading.meter = _meter(reading, measure, time)


def _transposes(reading: _Reading, move: Element) -> None:
    """Take a transposing instrument's interval: fifths for names, semitones for the melody."""
    chromatic, diatonic = whole(text_of(move, "chromatic")), whole(text_of(move, "diatonic"), 99)
    reading.semitones = max(-60, min(60, chromatic + 12 * whole(text_of(move, "octave-change"))))
    if diatonic == 99:
        # Without its letters an interval is the plainest one: 2 semitones a whole tone, 9 a major sixth.
        reading.shift = (chromatic * 7 + 5) % 12 - 5
    else:
        # A step up is two fifths on the line less an octave of semitones; the rest are sharps of seven fifths.
        letters = diatonic * 2 - 7 * ((diatonic * 2 + 1) // 7)
        sharps = round((chromatic - letters * 7 % 12 + 6) % 12 - 6)
        reading.shift = max(-12, min(12, letters + 7 * sharps))


def _key(reading: _Reading, key: Element) -> Key:
    fifths = whole(text_of(key, "fifths"))
    if abs(fifths) > 7:
        reading.doubts.append(f"a key of {fifths} fifths is unknown, the one before was kept")
        return reading.key
    fifths += reading.shift
    fifths -= 12 if fifths > 7 else -12 if fifths < -7 else 0
    tonic, minor = MODES.get(text_of(key, "mode").lower(), (0, False))
    return Key(NoteName(fifths + tonic), minor)


def _meter(reading: _Reading, measure: Measure, time: Element) -> Meter:
    beats = [text_of_all for item in time.findall("beats") if (text_of_all := (item.text or "").strip())]
    types = [(item.text or "").strip() for item in time.findall("beat-type")]
    try:
        upper = sum(int(part) for part in beats[0].split("+"))
        if len(beats) > 1:
            reading.doubts.append(f"measure {measure.number}: a meter of several, only the first was read")
        return read_meter(f"{upper}/{types[0]}")
    except (ValueError, IndexError):
        reading.doubts.append(f"measure {measure.number}: a meter that is none here, {reading.meter} was kept")
        return reading.meter


def _duration(reading: _Reading, item: Element) -> Fraction:
    return _quarters(whole(text_of(item, "duration")), reading.divisions)


@lru_cache(maxsize=1024)
def _quarters(duration: int, divisions: int) -> Fraction:
    return Fraction(max(0, duration), divisions)


def _note(reading: _Reading, measure: Measure, item: Element) -> None:
    if item.find("grace") is not None or item.find("cue") is not None:
        return
    together = item.find("chord") is not None
    start = reading.last if together else reading.here
    measure.marks += [(start, mark) for sign, mark in MARKS.items() if item.find(f"notations/{sign}") is not None]
    _sing(reading, measure, item, start)
    if not together:
        reading.last = reading.here
        _share(reading, measure, _duration(reading, item))
        _advance(reading, measure, _duration(reading, item))


def _sing(reading: _Reading, measure: Measure, item: Element, start: Fraction) -> None:
    pitch = item.find("pitch")
    step = text_of(pitch, "step").upper()
    lyric = item.find("lyric") is not None
    if reading.staves > 1 and not lyric:
        # Two staves without words are a pianist's, whose top note is no tune.
        return
    if step not in NATURAL or text_of(item, "voice", "1") not in ("1", "") or text_of(item, "staff", "1") != "1":
        return
    octave, alter = whole(text_of(pitch, "octave"), 4), whole(text_of(pitch, "alter"))
    key = 12 * (octave + 1) + NATURAL[step] + alter + reading.semitones
    if 0 <= key <= 127:
        measure.notes.append(key)
        tied = any(tie.get("type") == "start" for tie in item.findall("tie"))
        _tune(measure, Sung(start, _duration(reading, item), key, tied))
        if lyric:
            measure.sung.append(key)
            _lyric(measure, item)


def _tune(measure: Measure, note: Sung) -> None:
    """Take a note of the melody: of notes that begin together the highest."""
    together = [other for other in measure.tune if other.at == note.at]
    if note.lasts and all(other.note < note.note for other in together):
        measure.tune = [other for other in measure.tune if other.at != note.at] + [note]


def _lyric(measure: Measure, item: Element) -> None:
    """Take the syllable of the first verse."""
    lyric = item.find("lyric")
    syllable = "".join(sign for sign in text_of(lyric, "text") if sign.isprintable())[:LONGEST_SYLLABLE]
    goes_on = text_of(lyric, "syllabic") in ("begin", "middle")
    measure.lyrics = (measure.lyrics + syllable + ("" if goes_on else " "))[:LONGEST_LYRICS]


def _advance(reading: _Reading, measure: Measure, by: Fraction) -> None:
    reading.here += by
    if by.numerator < 0 and reading.here.numerator < 0:
        reading.here = Fraction(0)
    if reading.here > measure.length:
        measure.length = reading.here


def _backup(reading: _Reading, measure: Measure, item: Element) -> None:
    reading.waiting = 0
    _advance(reading, measure, -_duration(reading, item))


def _forward(reading: _Reading, measure: Measure, item: Element) -> None:
    _share(reading, measure, _duration(reading, item))
    _advance(reading, measure, _duration(reading, item))


def _harmony(reading: _Reading, measure: Measure, item: Element) -> None:
    given = item.find("offset") is not None
    offset = Fraction(whole(text_of(item, "offset")), reading.divisions)
    at = _on_grid(max(Fraction(0), reading.here + offset))
    harmony = read_harmony(item, reading.key.up(-reading.shift), reading.shift)
    if harmony.doubt:
        reading.doubts.append(f"measure {measure.number}: {harmony.symbol}: {harmony.doubt}")
    measure.chords = [chord for chord in measure.chords if chord != (at, "N.C.")]
    if not given:
        reading.waiting += 1
    measure.chords.append((at, harmony.symbol))


def _on_grid(quarters: Fraction) -> Fraction:
    return Fraction(round(quarters * GRID), GRID)


def _share(reading: _Reading, measure: Measure, lasts: Fraction) -> None:
    """Let several chords over one note share its length evenly, where no offset places them."""
    count, reading.waiting = reading.waiting, 0
    here = _on_grid(reading.here)
    together = [at for at, (place, _) in enumerate(measure.chords) if place == here][-count:] if count else []
    if len(together) < 2 or not lasts:
        return
    for turn, at in enumerate(together):
        measure.chords[at] = (_on_grid(reading.here + lasts * turn / len(together)), measure.chords[at][1])


def _settle(reading: _Reading, measure: Measure) -> None:
    """Put the chords in order; of two in one place that nothing parts, the later one stays and the other is a doubt."""
    measure.chords.sort(key=lambda chord: chord[0])
    kept: dict[Fraction, str] = {}
    for place, symbol in measure.chords:
        if place in kept and kept[place] != symbol:
            reading.doubts.append(f"measure {measure.number}: {kept[place]} and {symbol} at once, {symbol} was kept")
        kept[place] = symbol
    measure.chords = list(kept.items())


def _barline(_reading: _Reading, measure: Measure, item: Element) -> None:
    repeat, ending = item.find("repeat"), item.find("ending")
    left = item.get("location") == "left"
    if repeat is not None and repeat.get("direction") == "forward":
        measure.forward = True
    elif repeat is not None and repeat.get("direction") == "backward":
        measure.backward = max(2, min(99, whole(repeat.get("times"), 2)))
        measure.after_jump = repeat.get("after-jump") == "yes"
    if ending is not None and ending.get("type") == "start":
        numbers = {int(number) for number in re.findall(r"\d{1,2}", ending.get("number") or "")}
        measure.ending = tuple(sorted(numbers - {0}))
    elif ending is not None:
        measure.ending_stops = True
    if text_of(item, "bar-style") in ("light-light", "light-heavy") and not left:
        measure.double = True
    for sign in ("segno", "coda"):
        if item.find(sign) is not None:
            setattr(measure, sign, item.get(sign) or sign)


def _direction(reading: _Reading, measure: Measure, item: Element) -> None:
    take_direction(measure, item, reading.here)


def _sound(_reading: _Reading, measure: Measure, item: Element) -> None:
    take_sound(measure, item)


_STEPS = {
    "attributes": _attributes, "note": _note, "backup": _backup, "forward": _forward, "harmony": _harmony,
    "barline": _barline, "direction": _direction, "sound": _sound,
}  # fmt: skip
