"""Timed notes written as the body of a tune in ABC notation.

Source: the ABC music standard 2.1 (2011), section 4.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from engine.song.abc_fields import default_unit
from engine.song.model import TuneNote
from engine.theory.key import read_key, signature_accidental, spelled_name
from engine.theory.meter import Meter
from engine.theory.pitch import NoteName

_SIGNS = {-2: "__", -1: "_", 0: "=", 1: "^", 2: "^^"}
BARS_A_LINE = 4
"""Bars in a line that is written. Source: common practice of lead sheets."""


def tune_text(
    notes: Sequence[TuneNote],
    key: str,
    meter: Meter,
    pickup: Fraction = Fraction(0),
    meters: Sequence[Meter] = (),
) -> str:
    """Return a section's tune as ABC notation; reading it gives the same notes.

    Args:
        notes: in order, onsets in beats from the section's start; what overlaps the next note ends there.
        key: the key that spells the notes, as in Eb or Cm.
        meter: of the section; says the unit length.
        pickup: beats of an incomplete first bar, 0 for none.
        meters: one for each bar where the section's bars are known; else as many bars of `meter` as the notes need.
    """
    bars = meters or [meter] * _bars_needed(notes, meter, pickup)
    signature = read_key(key).signature if key else 0
    told = [" ".join(bar) for bar in _bars(notes, signature, meter, pickup, bars)]
    lines = [told[at : at + BARS_A_LINE] for at in range(0, len(told), BARS_A_LINE)]
    return "\n".join(" | ".join(line) + " |" for line in lines)


def sign_and_letter(name: NoteName, note: int, signed: bool) -> str:
    """Return a note's name in ABC: accidental where `signed`, letter and octave marks."""
    octave = (note - name.accidental) // 12 - 1
    letter = name.letter.lower() if octave > 4 else name.letter
    marks = "'" * (octave - 5) if octave > 4 else "," * (4 - octave)
    return (_SIGNS[name.accidental] if signed else "") + letter + marks


def _bars_needed(notes: Sequence[TuneNote], meter: Meter, pickup: Fraction) -> int:
    end = max((note.onset + note.length for note in notes), default=Fraction(0))
    if not pickup:
        return max(1, -(-end // meter.beats))
    return 1 + max(0, -(-(end - pickup) // meter.beats))


def _bars(
    notes: Sequence[TuneNote], signature: int, meter: Meter, pickup: Fraction, meters: Sequence[Meter]
) -> Iterator[list[str]]:
    """Yield the words of each bar."""
    unit = default_unit(meter)
    start = Fraction(0)
    for number, own in enumerate(meters):
        length = pickup if pickup and number == 0 else Fraction(own.beats)
        state: dict[str, int] = {}
        words: list[str] = []
        per_beat = own.beat_quarters / (unit * 4)
        for note, beats, tied in pieces(notes, start, start + length):
            written = "z" if note is None else pitch_word(note, signature, state)
            words.append(with_length(written, beats * per_beat) + ("-" if tied else ""))
        yield words
        start += length


def pieces(notes: Sequence[TuneNote], start: Fraction, end: Fraction) -> Iterator[tuple[int | None, Fraction, bool]]:
    """Yield what sounds from `start` to `end`: (MIDI number or None for a rest, beats, whether it goes on after)."""
    at = start
    for place, note in enumerate(notes):
        close = note.onset + note.length
        if place + 1 < len(notes):
            close = min(close, notes[place + 1].onset)
        first, last = max(note.onset, at), min(close, end)
        if first >= last:
            continue
        if first > at:
            yield None, first - at, False
        yield note.note, last - first, close > end
        at = last
    if at < end:
        yield None, end - at, False


def pitch_word(note: int, signature: int, state: dict[str, int]) -> str:
    """Name a note, with an accidental where the key or anything earlier in the bar says another.

    It is written again for each note, since programs differ in how far one holds.
    """
    name = spelled_name(note, signature)
    signed = name.letter in state or signature_accidental(name.letter, signature) != name.accidental
    if signed:
        state[name.letter] = name.accidental
    return sign_and_letter(name, note, signed)


def with_length(word: str, units: Fraction) -> str:
    """Return a note or rest with its length in units; a length of thirds, fifths ... is a tuplet of one note."""
    bottom = units.denominator
    odd = bottom
    while odd % 2 == 0:
        odd //= 2
    if odd > 1:
        even = 1 << (odd.bit_length() - 1)
        return f"({odd}:{even}:1{with_length(word, units * Fraction(odd, even))}"
    top = "" if units.numerator == 1 else str(units.numerator)
    return word + top + ("" if bottom == 1 else f"/{bottom}")
