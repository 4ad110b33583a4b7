"""The notes of a tune in ABC notation: pitches, lengths, ties, tuplets, broken rhythm and bar lines of one voice.

Source: the ABC music standard 2.1 (2011), section 4. Own reader: the libraries that read ABC bring a whole notation
program with them or are not kept; a melody needs this part alone. Accidentals hold to the end of the bar for their
letter in all octaves (section 11.3, the default), and through a tie. Grace notes, slurs, decorations,
annotations and words are passed over.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from fractions import Fraction

from engine.song.abc_fields import default_unit, read_abc_key, read_unit
from engine.theory.key import signature_accidental
from engine.theory.meter import Meter
from engine.theory.meter import meter as read_meter
from engine.theory.pitch import NATURAL, NoteName, note_name

_SIGNS = re.compile(
    r"""(?P<field>(?:(?<=\n)|\A)[ \t]*[A-Za-z]:[^\n%|:][^\n%]*|\[[A-Za-z]:[^\]\n]*\])
    |(?P<skip>[ \t\n\r`\\y)]+|%[^\n]*|\{[^}\n]*\}|![^!\n]*!|[.~HLMOPSTuv]|\((?!\d))
    |(?P<words>"[^"\n]*")
    |(?P<tuplet>\((?P<p>\d{1,2})(?::(?P<q>\d{0,2})(?::(?P<r>\d{0,3}))?)?)
    |(?P<bar>\[\||\|\]|:*\|+:*(?!\])|::|\[(?=\d))(?P<turns>[ ]*\d[\d,.-]*)?
    |(?P<note>(?P<sign>\^\^|\^|__|_|=)?(?P<letter>[A-Ga-g])(?P<marks>[,']*))(?P<length>\d{0,4}/{0,6}\d{0,3})
    |(?P<rest>[zx])(?P<pause>\d{0,4}/{0,6}\d{0,3})
    |(?P<bars>[ZX])(?P<count>\d{0,4})
    |(?P<open>\[)
    |(?P<close>\])(?P<all>\d{0,4}/{0,6}\d{0,3})
    |(?P<broken>>+|<+)
    |(?P<tie>-)
    """,
    re.VERBOSE,
)
_ACCIDENTAL = {"^": 1, "^^": 2, "_": -1, "__": -2, "=": 0}
_PASSED_OVER = "wWNRTXCOABDFGHIPQSUmrs"
"""Fields that say nothing about the pitch or length of a note."""


@dataclass(frozen=True, slots=True)
class AbcNote:
    """A note as written: where its name stands (`start` to `end`), its name and MIDI number; `explicit`: has a sign.

    `bar` counts bars from 0, `at` and `length` are in quarters, `at` from the start of the bar. `tied`: goes on.
    `signature`: that of the key it is read in. A tune is one voice: of a chord only the highest note sounds.
    """

    start: int
    end: int
    name: NoteName
    note: int
    explicit: bool
    signature: int
    bar: int
    at: Fraction
    length: Fraction
    tied: bool = False
    sounds: bool = True


@dataclass(frozen=True, slots=True)
class AbcWords:
    """Words in quotes over a note, or a field: where they stand and what they say."""

    kind: str
    start: int
    text: str
    bar: int
    at: Fraction


@dataclass(frozen=True, slots=True)
class AbcBar:
    """A bar as written: where it begins, its length in quarters, the line signs before and after it, its ending.

    A length below zero: a bar of rest, as long as the bar is.
    """

    start: int
    length: Fraction
    opens: str
    closes: str
    turns: str


@dataclass(slots=True)
class AbcTune:
    """What was read of a tune: notes, words and bars in order, and the faults as (offset, found, hint)."""

    notes: list[AbcNote] = field(default_factory=list)
    words: list[AbcWords] = field(default_factory=list)
    bars: list[AbcBar] = field(default_factory=list)
    faults: list[tuple[int, str, str]] = field(default_factory=list)


def read_abc_notes(text: str, signature: int, meter: Meter, unit: Fraction | None = None) -> AbcTune:
    """Read the notes of a tune; every fault is collected, none stops the reading.

    Args:
        text: the tune, without the fields of a file's head.
        signature: sharps of the key, flats below zero.
        meter: says the default unit length and how tuplets are counted.
        unit: the unit length as a part of a whole note; None for the meter's.
    """
    reading = _Reading(signature, meter, unit or default_unit(meter))
    at = 0
    while at < len(text):
        found = _SIGNS.match(text, at)
        if found is None or found.end() == at:
            reading.fault(at, f"{text[at]} means nothing in a tune", "notes are A to G and a to g, rests are z")
            at += 1
            continue
        for kind, step in _STEPS.items():
            if found[kind] is not None:
                step(reading, found)
        at = found.end()
    reading.end_bar("", "")
    return reading.tune


class _Reading:
    """The state of one reading: key, unit, the bar's accidentals, the tuplet and the broken rhythm that wait."""

    def __init__(self, signature: int, meter: Meter, unit: Fraction) -> None:
        self.tune = AbcTune()
        self.signature, self.meter, self.unit = signature, meter, unit
        self.accidentals: dict[str, int] = {}
        self.at = Fraction(0)
        self.started = False
        self.bar_start, self.opens, self.turns = 0, "", ""
        self.tuplet, self.left = Fraction(1), 0
        self.broken = Fraction(1)
        self.chord: list[AbcNote] | None = None
        self.last_rest = False

    def fault(self, offset: int, found: str, hint: str) -> None:
        """Note a fault."""
        self.tune.faults.append((offset, found, hint))

    def end_bar(self, sign: str, turns: str) -> None:
        """Close the bar under the pen, if anything stands in it, and open the next."""
        if self.started:
            bar = AbcBar(self.bar_start, self.at, self.opens, sign, self.turns)
            self.tune.bars.append(bar)
            self.opens, self.turns = sign, turns
        else:
            self.opens, self.turns = self.opens + sign, turns or self.turns
        self.at, self.started, self.accidentals = Fraction(0), False, {}

    def begin(self, offset: int) -> None:
        """Note that something stands in the bar."""
        if not self.started:
            self.started, self.bar_start = True, offset

    def length(self, text: str) -> Fraction:
        """Return the quarters of a written length: 2, 3/2, /, //."""
        number, slashes, part = re.fullmatch(r"(\d*)(/*)(\d*)", text).groups()  # type: ignore[union-attr]
        length = Fraction(int(number or 1)) / (int(part) if part and int(part) else 2 ** len(slashes))
        return length * self.unit * 4

    def spend(self, length: Fraction) -> Fraction:
        """Return the length that a note or rest gets from the tuplet and the broken rhythm before it."""
        length *= self.broken
        self.broken = Fraction(1)
        if self.left:
            length *= self.tuplet
            self.left -= 1
        return length


def _field(reading: _Reading, found: re.Match[str]) -> None:
    text = found[0].strip().strip("[]")
    letter, value = text[0], text[2:]
    reading.tune.words.append(AbcWords(letter, found.end() - len(found[0].lstrip()), value, *_place(reading)))
    try:
        if letter == "K":
            reading.signature = read_abc_key(value).signature
        elif letter == "L":
            reading.unit = read_unit(value)
        elif letter == "M" and value.strip() not in ("C", "C|", "none"):
            reading.meter = read_meter(value)
        elif letter == "V":
            reading.fault(found.start(), "a tune of several voices", "leave one voice, the one that is sung")
        elif letter not in _PASSED_OVER and letter not in "KLM":
            reading.fault(found.start(), f"{letter}: means nothing here", "in a tune stand K:, L: and M:")
    except ValueError as error:
        found_text, _, hint = str(error).partition(", ")
        reading.fault(found.start(), found_text, hint)


def _place(reading: _Reading) -> tuple[int, Fraction]:
    return len(reading.tune.bars), reading.at


def _words(reading: _Reading, found: re.Match[str]) -> None:
    text = found[0][1:-1]
    if text[:1] not in tuple("^_<>@"):
        reading.tune.words.append(AbcWords("chord", found.start() + 1, text, *_place(reading)))


def _tuplet(reading: _Reading, found: re.Match[str]) -> None:
    p = int(found["p"])
    usual = {2: 3, 3: 2, 4: 3, 6: 2, 8: 3}.get(p, 3 if reading.meter.compound else 2)
    q, r = int(found["q"] or usual), int(found["r"] or p)
    if not p or not q or p > 64 or q > 64:
        reading.fault(found.start(), f"{found[0]} is no tuplet", "write (3 before the three notes")
        return
    reading.tuplet, reading.left = Fraction(q, p), r


def _bar(reading: _Reading, found: re.Match[str]) -> None:
    reading.end_bar(found["bar"], (found["turns"] or "").strip())


def _note(reading: _Reading, found: re.Match[str]) -> None:
    reading.begin(found.start())
    letter = found["letter"].upper()
    octave = (5 if found["letter"].islower() else 4) + found["marks"].count("'") - found["marks"].count(",")
    last = reading.tune.notes[-1] if reading.tune.notes else None
    signed = found["sign"]
    if signed:
        accidental = reading.accidentals[letter] = _ACCIDENTAL[signed]
    else:
        accidental = reading.accidentals.get(letter, signature_accidental(letter, reading.signature))
        natural = NATURAL[letter] + 12 * (octave + 1)
        if last and last.tied and last.name.letter == letter and abs(last.note - natural) <= 2:
            # A tie carries its accidental over the bar line.
            accidental = last.name.accidental
    note = NATURAL[letter] + accidental + 12 * (octave + 1)
    if not 0 <= note <= 127:
        reading.fault(found.start(), f"{found['note']} lies beyond every keyboard", "take a mark of its octave away")
        note = min(127, max(0, note))
    length = reading.length(found["length"])
    if length == 0:
        reading.fault(found.start(), f"{found[0]} has no length", "leave the 0 away")
    name = note_name(letter).up(7 * accidental)
    written = AbcNote(found.start("note"), found.end("note"), name, note, bool(signed), reading.signature,
                      len(reading.tune.bars), reading.at, length)  # fmt: skip
    if reading.chord is not None:
        reading.chord.append(written)
        return
    _sound(reading, [written], length)


def _sound(reading: _Reading, together: list[AbcNote], length: Fraction) -> None:
    """Put notes struck together into the tune; the highest sounds."""
    length = reading.spend(length)
    top = max(together, key=lambda one: one.note)
    lower = [replace(one, length=length, sounds=False) for one in together if one is not top]
    reading.tune.notes += [*lower, replace(top, length=length)]
    reading.at += length
    reading.last_rest = False


def _rest(reading: _Reading, found: re.Match[str]) -> None:
    reading.begin(found.start())
    reading.at += reading.spend(reading.length(found["pause"]))
    reading.last_rest = True


def _rest_bars(reading: _Reading, found: re.Match[str]) -> None:
    """Take Z4, four bars of rest; their length is known only where the bars are."""
    if reading.started:
        reading.fault(found.start(), f"{found[0]} inside a bar", "put a bar line before it, or write z")
        return
    for _ in range(min(int(found["count"] or 1), 2000)):
        reading.tune.bars.append(AbcBar(found.start(), Fraction(-1), reading.opens, "", reading.turns))
        reading.opens, reading.turns = "", ""


def _open(reading: _Reading, found: re.Match[str]) -> None:
    reading.begin(found.start())
    reading.chord = []
    reading.fault(found.start(), "several notes at once", "write the one that is sung: the highest is taken")


def _close(reading: _Reading, found: re.Match[str]) -> None:
    if not reading.chord:
        reading.fault(found.start(), "] closes nothing", "take it out")
    else:
        _sound(reading, reading.chord, reading.chord[0].length * reading.length(found["all"]) / (reading.unit * 4))
    reading.chord = None


def _broken(reading: _Reading, found: re.Match[str]) -> None:
    """Take C>D: the first note half as long again, the next half as long; C<D the other way round."""
    notes = reading.tune.notes
    if not notes or reading.last_rest or notes[-1].bar != len(reading.tune.bars):
        reading.fault(found.start(), f"{found[0]} with no note before it", "write it between two notes")
        return
    short = Fraction(1, 2 ** len(found[0]))
    first, reading.broken = (2 - short, short) if found[0][0] == ">" else (short, 2 - short)
    last = notes[-1]
    notes[-1] = replace(last, length=last.length * first)
    reading.at += notes[-1].length - last.length


def _tie(reading: _Reading, found: re.Match[str]) -> None:
    if not reading.tune.notes:
        reading.fault(found.start(), "a tie with no note before it", "write - straight after its note")
        return
    reading.tune.notes[-1] = replace(reading.tune.notes[-1], tied=True)


_STEPS: dict[str, Callable[[_Reading, re.Match[str]], None]] = {
    "field": _field, "words": _words, "tuplet": _tuplet, "bar": _bar, "note": _note, "rest": _rest,
    "bars": _rest_bars, "open": _open, "close": _close, "broken": _broken, "tie": _tie,
}  # fmt: skip
