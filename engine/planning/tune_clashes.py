"""What is left of a clash with a tune, in a player's words: notes that cross it, and notes that rub."""

from functools import lru_cache

from engine.chord.model import Chord
from engine.theory.pitch import spelled
from engine.voicing.tones import degree_of, seventh, sounding_third

RUBS = {1: "a half step", 13: "a minor ninth"}
"""Semitones from a held note that rub. Source: common practice of arrangers."""


@lru_cache(maxsize=4096)
def clash_words(chord: Chord, keys: tuple[int, ...], tune: tuple[int, ...]) -> tuple[str, ...]:
    """Return a warning for notes that lie above a tune among them, and one for each note that rubs against it.

    `keys` and `tune` (what it holds over the chord) are MIDI numbers, ascending. A tune below all of ours, a low
    voice's, is crossed by nothing; a note of ours on the tune's own key only doubles it.
    """
    if not keys or not tune:
        return ()
    above = [key for key in keys if keys[0] < tune[0] < key]
    crossed = [f"{_listed(chord, above)} above the tune's {_name(chord, tune[0])}"] if above else []
    return (*crossed, *rub_words(chord, keys, tune))


@lru_cache(maxsize=4096)
def rub_words(chord: Chord, keys: tuple[int, ...], tune: tuple[int, ...]) -> tuple[str, ...]:
    """Return a warning for each of some keys that rubs against what a tune holds."""
    return tuple(
        f"{_name(chord, key)}, the {degree_of(chord, key % 12).degree}, is {RUBS[abs(key - note)]} "
        f"{'under' if key < note else 'over'} the tune's {_name(chord, note)}: leave it out while that is held"
        for key in keys
        for note in tune
        if abs(key - note) in RUBS
    )


@lru_cache(maxsize=4096)
def left_out_words(chord: Chord, keys: tuple[int, ...], tune: tuple[int, ...]) -> tuple[str, ...]:
    """Return a warning for third and seventh that are not among the keys, since they would rub against what the
    player's own tune holds."""
    said = {key % 12 for key in keys}
    return tuple(
        f"the {tone.degree}, {tone.name}, is left out: it would rub against the tune's {_name(chord, note)}"
        for tone in (sounding_third(chord), seventh(chord))
        if tone is not None and tone.pc not in said
        for note in tune
        if (note - tone.pc) % 12 in (1, 11)
    )


def _listed(chord: Chord, keys: list[int]) -> str:
    """Return keys as a sentence begins: `B3 lies`, `G3 and B3 lie`, `G3, B3 and D4 lie`."""
    *first, last = [_name(chord, key) for key in keys]
    return f"{', '.join(first)} and {last} lie" if first else f"{last} lies"


def _name(chord: Chord, key: int) -> str:
    return spelled(key, degree_of(chord, key % 12).name)
