"""A tune in ABC notation put into another key by changing its notes, keys and chord symbols and nothing else."""

import re
from collections.abc import Iterator

from engine.song.abc_notes import AbcTune, AbcWords, read_abc_notes
from engine.song.abc_writing import sign_and_letter
from engine.song.plain_edits import Patch
from engine.song.transposing import plain_name, transpose_symbol
from engine.theory.key import signature_accidental
from engine.theory.meter import Meter
from engine.theory.pitch import note_name


def tune_patches(text: str, signature: int, meter: Meter, fifths: int, semitones: int) -> Iterator[Patch]:
    """Yield what changes in a tune that moves by an interval.

    Args:
        text: the tune, which reads without faults.
        signature: of the key before, sharps above zero.
        meter: of its section.
        fifths: the interval on the line of fifths, for names.
        semitones: the interval for notes.
    """
    tune = read_abc_notes(text, signature, meter)
    yield from _notes(tune, fifths, semitones)
    for words in tune.words:
        yield from _words(text, words, fifths)


def _notes(tune: AbcTune, fifths: int, semitones: int) -> Iterator[Patch]:
    bar, state = -1, dict[str, int]()
    for written in tune.notes:
        if written.bar != bar:
            bar, state = written.bar, {}
        name = plain_name(written.name.up(fifths))
        signature = written.signature + fifths
        signed = written.explicit
        if state.get(name.letter, signature_accidental(name.letter, signature)) != name.accidental:
            signed = True
        if signed:
            state[name.letter] = name.accidental
        yield written.start, written.end, sign_and_letter(name, written.note + semitones, signed)


def _words(text: str, words: AbcWords, fifths: int) -> Iterator[Patch]:
    if words.kind == "chord":
        yield words.start, words.start + len(words.text), transpose_symbol(words.text, fifths)
    elif words.kind == "K":
        found = re.compile(r"[^\n:]*:\s*([A-G][#b]?)").match(text, words.start)
        if found:
            yield found.start(1), found.end(1), str(plain_name(note_name(found[1]).up(fifths)))
