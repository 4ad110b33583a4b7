"""Avoid notes: a tune note held over a chord that has a tone a semitone away from it.

Source: common practice of arrangers: a major seventh under its own root in the tune is played as a sixth chord. Advice
only; no chord is changed for it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from engine.chord.model import Chord
from engine.song.model import Event, Section, Song
from engine.song.tune import LEAST_HELD, bar_starts, held_beats


@dataclass(frozen=True, slots=True)
class AvoidNote:
    """Advice about one chord: where it is written, the chord, and what the tune does to it in words."""

    line: int
    column: int
    section: str
    bar: int
    symbol: str
    remark: str


def avoid_notes(song: Song) -> tuple[AvoidNote, ...]:
    """Return the chords that a held note of the tune rubs against, in the order written; `bar` from 1, a pickup 0."""
    return tuple(advice for section in song.sections if section.tune for advice in _of_section(section))


def _of_section(section: Section) -> Iterator[AvoidNote]:
    for place, (bar, start) in enumerate(zip(section.bars, bar_starts(section), strict=True)):
        for event in bar.events:
            at = start + event.beat - bar.events[0].beat
            remark = _rub(section, event, at)
            if remark:
                number = place + (0 if section.pickup else 1)
                yield AvoidNote(event.line, event.column, section.name, number, event.symbol, remark)


def _rub(section: Section, event: Event, start: Fraction) -> str:
    """Return what is to be said of one chord, "" for nothing."""
    chord = event.chord
    if chord is None:
        return ""
    for note in section.tune:
        if held_beats(note, start, start + event.beats) >= LEAST_HELD:
            remark = _remark(chord, note.note % 12)
            if remark:
                return remark
    return ""


def _remark(chord: Chord, pc: int) -> str:
    """Say what a held pitch class does to a chord, "" where it is one of its tones or rubs nothing."""
    seventh, third = chord.tone("7"), chord.tone("3")
    if seventh and pc == chord.root.pc:
        third_kind = "m6" if chord.tone("b3") else "6"
        return f"the tune holds {chord.root} over its major seventh: {chord.root}{third_kind} would stay clear"
    if third and not chord.tone("4", "11") and pc == (third.pc + 1) % 12:
        return f"the tune holds the fourth, a semitone over the third: {chord.root}sus4 would stay clear"
    return ""
