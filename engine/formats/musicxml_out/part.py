"""A part: songs measure by measure, each with its own key, meter, tempo, sections and repeats.

Source: MusicXML 4.0 (W3C), <part> and <measure>.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from math import lcm
from xml.etree.ElementTree import Element, SubElement

from engine.formats.musicxml_out.accidentals import add_accidentals
from engine.formats.musicxml_out.barlines import add_left, add_right
from engine.formats.musicxml_out.beams import add_beams
from engine.formats.musicxml_out.directions import add_section, add_tempo, add_title, add_words
from engine.formats.musicxml_out.lengths import written
from engine.formats.musicxml_out.measures import Measure
from engine.song.model import Song, Step
from engine.song.section_tempo import tempo_of
from engine.theory.key import read_key


@dataclass(frozen=True, slots=True)
class Scoring:
    """What a part is written for: its name, the clefs of its staves from the top (sign, line), the lengths in quarters
    of what a measure holds, and what appends it, given the parts of a quarter that durations count."""

    name: str
    clefs: tuple[tuple[str, str], ...]
    lengths: Callable[[Measure], Iterable[Fraction]]
    add_music: Callable[[Element, Measure, int], None]


@dataclass(frozen=True, slots=True)
class Piece:
    """A song of a part. `title` is printed where it begins, "" where the whole file is called so; `transposed` has the
    fifths from the sounding to the written pitch by section, `feel` is that of the song before."""

    song: Song
    measures: tuple[Measure, ...]
    title: str = ""
    transposed: Mapping[str, int] = field(default_factory=dict)
    feel: str = "straight"


@dataclass(frozen=True, slots=True)
class _Writing:
    """A song while it is written: into how many parts a quarter is divided, and whether it is the first of its part."""

    piece: Piece
    scoring: Scoring
    divisions: int
    opens: bool


def add_piece(part: Element, piece: Piece, scoring: Scoring) -> None:
    """Append a song to a part; its measures are counted from 1, pickups and what they shorten left out."""
    writing = _Writing(piece, scoring, _divisions(piece.measures, scoring), opens=not len(part))
    before: Step | None = None
    number = 0
    if not piece.measures:
        _nothing(part, piece)
    for place, measure in enumerate(piece.measures):
        number += measure.full
        about = {"number": str(number)} if measure.full else {"number": f"X{place + 1}", "implicit": "yes"}
        element = SubElement(part, "measure", about)
        if measure.first and len(part) > 1:
            SubElement(element, "print", {"new-system": "yes"} if place else {"new-page": "yes"})
        add_left(element, measure)
        _attributes(element, measure.steps[0].step, before, writing)
        _directions(element, measure, before, piece)
        scoring.add_music(element, measure, writing.divisions)
        add_beams(element, measure, writing.divisions)
        add_accidentals(element, measure.steps[0].step.key or piece.song.key)
        add_right(element, measure, last=place + 1 == len(piece.measures))
        before = measure.steps[-1].step


def _nothing(part: Element, piece: Piece) -> None:
    """Append a measure of rest for a song without chords."""
    rest = SubElement(part, "measure", {"number": "1"})
    if piece.title:
        add_title(rest, piece.title)
    SubElement(SubElement(rest, "note"), "rest")
    SubElement(rest[-1], "duration").text = "1"


def _divisions(found: Iterable[Measure], scoring: Scoring) -> int:
    """Return into how many parts a quarter is divided, so that every written value is a whole number of them."""
    lasting = {quarters for measure in found for quarters in scoring.lengths(measure)}
    return lcm(*(length.quarters.denominator for quarters in lasting for length in written(quarters)), 1)


def _attributes(element: Element, step: Step, before: Step | None, writing: _Writing) -> None:
    """Append what is different from the step before; at a song's start all of it, the clefs only at the part's."""
    piece = writing.piece
    key, old = step.key or piece.song.key, before and (before.key or piece.song.key)
    if before is not None and key == old and step.meter == before.meter:
        return
    found = SubElement(element, "attributes")
    if before is None:
        SubElement(found, "divisions").text = str(writing.divisions)
    if key != old:
        tonic = read_key(key)
        sign = SubElement(found, "key")
        SubElement(sign, "fifths").text = str(tonic.signature)
        SubElement(sign, "mode").text = "minor" if tonic.minor else "major"
    if before is None or step.meter != before.meter:
        time = SubElement(found, "time")
        SubElement(time, "beats").text = str(step.meter.upper)
        SubElement(time, "beat-type").text = str(step.meter.lower)
    if before is None and writing.opens:
        _clefs(found, writing.scoring)
    fifths = piece.transposed.get(step.section, 0)
    if fifths != (piece.transposed.get(before.section, 0) if before else 0):
        _transpose(found, fifths)


def _directions(element: Element, measure: Measure, before: Step | None, piece: Piece) -> None:
    """Append what stands over a measure: tempo and feel, its section, how often its repeat is played, a title."""
    song, first = piece.song, measure.steps[0].step
    if before is None or _quarters_a_minute(song, first) != _quarters_a_minute(song, before):
        feel = song.feel if before is None and song.feel != piece.feel else ""
        add_tempo(element, tempo_of(song, first), first.meter, feel)
    if measure.first:
        add_section(element, first)
    if measure.times > 2 and not measure.ending:
        add_words(element, f"{measure.times}× in all")
    if before is None and piece.title:
        # The last of these words, since engravers put each above those before.
        add_title(element, piece.title)


def _clefs(attributes: Element, scoring: Scoring) -> None:
    several = len(scoring.clefs) > 1
    if several:
        SubElement(attributes, "staves").text = str(len(scoring.clefs))
    for number, (sign, line) in enumerate(scoring.clefs, 1):
        clef = SubElement(attributes, "clef", {"number": str(number)} if several else {})
        SubElement(clef, "sign").text = sign
        SubElement(clef, "line").text = line


def _transpose(attributes: Element, fifths: int) -> None:
    """Say how far below the written pitch the part sounds: a fifth is four steps of the scale and seven semitones."""
    move = SubElement(attributes, "transpose")
    SubElement(move, "diatonic").text = str(-(4 * fifths % 7))
    SubElement(move, "chromatic").text = str(-(7 * fifths % 12))


def _quarters_a_minute(song: Song, step: Step) -> float:
    return tempo_of(song, step) * (float(step.meter.beat_quarters) if step.meter.compound else 1)
