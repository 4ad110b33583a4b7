"""A section's tune: ABC notation read over its bars, and what sounds of it while each chord is played."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from engine.song.abc_notes import AbcTune, read_abc_notes
from engine.song.fields import Sheet, Table
from engine.song.model import Bar, Section, Song, Step, TuneNote
from engine.song.source_positions import Path
from engine.theory.key import read_key
from engine.theory.meter import Meter, beats_figure

LEAST_HELD = Fraction(1)
"""Beats of a chord from which a note of the tune counts as held: passing notes rub and go (own choice)."""


@dataclass(frozen=True, slots=True)
class _Grid:
    """The bars that a tune lies over: of each its start and length in beats, and how long a beat is in quarters."""

    starts: tuple[Fraction, ...]
    lengths: tuple[Fraction, ...]
    quarters: tuple[Fraction, ...]


def read_tune(sheet: Sheet, table: Table, path: Path, key: str, meter: Meter, section: Section) -> tuple[TuneNote, ...]:
    """Read a section's `tune` over its bars; every mistake becomes a fault of the sheet at its place."""
    text = sheet.text(table, path)
    if not text.strip():
        return ()
    tune = read_abc_notes(text, read_key(key).signature if key else 0, meter)
    for offset, found, hint in tune.faults:
        sheet.at_place(sheet.places.inside(offset, *path), found, hint)
    if tune.faults or not section.bars:
        return ()
    grid = _grid(section.bars, section.pickup)
    slip = _disagreement(tune, grid)
    if slip:
        sheet.at_place(sheet.places.inside(slip[0], *path), *slip[1:])
        return ()
    return timed(tune, grid)


def _grid(bars: Sequence[Bar], pickup: Fraction) -> _Grid:
    lengths = tuple(pickup if pickup and place == 0 else Fraction(bar.meter.beats) for place, bar in enumerate(bars))
    starts = tuple(sum(lengths[:place], Fraction(0)) for place in range(len(lengths)))
    return _Grid(starts, lengths, tuple(bar.meter.beat_quarters for bar in bars))


def bar_starts(section: Section) -> tuple[Fraction, ...]:
    """Return the beat, from the section's start, at which each of its written bars begins."""
    return _grid(section.bars, section.pickup).starts


def _disagreement(tune: AbcTune, grid: _Grid) -> tuple[int, str, str] | None:
    """Return the first bar of the tune that is longer or shorter than the section's: (offset, found, hint)."""
    pairs = list(zip(tune.bars, grid.lengths, grid.quarters, strict=False))
    factors = {bar.length / (length * quarters) for bar, length, quarters in pairs if bar.length > 0}
    for number, (bar, length, quarters) in enumerate(pairs, 1):
        if bar.length >= 0 and bar.length != length * quarters:
            found = f"bar {number} of the tune has {_beats(bar.length / quarters)}, that of the chords {_beats(length)}"
            whole = len(factors) == 1 and factors <= {Fraction(1, 2), Fraction(1, 4), Fraction(2), Fraction(4)}
            mend = "begin the tune with its unit, as in L:1/4" if whole else "mend its lengths or its bar lines"
            return bar.start, found, mend
    if len(tune.bars) != len(grid.lengths):
        last = tune.bars[min(len(tune.bars), len(grid.lengths) + 1) - 1].start if tune.bars else 0
        found = f"the tune has {_bars(len(tune.bars))}, the section {_bars(len(grid.lengths))}"
        return last, found, "write every bar once, as the chords do; z is a rest, Z a bar of rest"
    return None


def _beats(beats: Fraction) -> str:
    return f"{beats_figure(beats)} beat{'' if beats == 1 else 's'}"


def _bars(count: int) -> str:
    return f"{count} bar{'' if count == 1 else 's'}"


def timed(tune: AbcTune, grid: _Grid) -> tuple[TuneNote, ...]:
    """Return a tune's notes with onset and length in beats, tied ones in one."""
    notes: list[TuneNote] = []
    tied = False
    for written in tune.notes:
        if not written.sounds:
            continue
        onset = grid.starts[written.bar] + written.at / grid.quarters[written.bar]
        length = written.length / grid.quarters[written.bar]
        last = notes[-1] if notes else None
        if tied and last and last.note == written.note and last.onset + last.length == onset:
            notes[-1] = replace(last, length=last.length + length)
        else:
            notes.append(TuneNote(onset, length, written.note))
        tied = written.tied
    return tuple(notes)


def timed_over(tune: AbcTune, bars: Sequence[Bar], pickup: Fraction = Fraction(0)) -> tuple[TuneNote, ...]:
    """Return a tune's notes in beats over bars that it is known to agree with."""
    return timed(tune, _grid(bars, pickup))


def whose_tune(song: Song, section: Section) -> str:
    """Return who has a section's tune: mine or theirs."""
    return section.tune_is or song.tune_is


def sung_range(song: Song) -> tuple[int, int] | None:
    """Return the lowest and highest note sung (MIDI numbers): as the song says, else out of its tunes."""
    if song.melody:
        return song.melody
    notes = [note.note for section in song.sections for note in section.tune]
    return (min(notes), max(notes)) if notes else None


def tune_over(song: Song, steps: Sequence[Step]) -> tuple[tuple[TuneNote, ...], ...]:
    """Return for each step the notes of the tune that sound during it.

    Onsets are in beats from the step's start; a note that is held into the step begins below zero. Lengths are whole,
    a note may go on after the step.
    """
    sections = {section.name: section for section in song.sections}
    starts = {name: bar_starts(section) for name, section in sections.items() if section.tune}
    known: dict[tuple[tuple[str, int, int], Fraction], tuple[TuneNote, ...]] = {}
    for step in steps:
        place = step.written, step.beats
        if place not in known:
            known[place] = _during(sections[step.section], starts.get(step.section, ()), step)
    return tuple(known[step.written, step.beats] for step in steps)


def _during(section: Section, starts: tuple[Fraction, ...], step: Step) -> tuple[TuneNote, ...]:
    if not section.tune:
        return ()
    _, bar, _ = step.written
    first = section.bars[bar].events[0].beat
    start = starts[bar] + step.beat - first
    end = start + step.beats
    heard = (note for note in section.tune if note.onset < end and note.onset + note.length > start)
    return tuple(replace(note, onset=note.onset - start) for note in heard)


def held_beats(note: TuneNote, start: Fraction, end: Fraction) -> Fraction:
    """Return the beats of a note inside a chord, negative where they miss each other."""
    return min(end, note.onset + note.length) - max(start, note.onset)
