"""How clear a planned chord sounds low down: figures, and the words that warn and say what cures it."""

from functools import lru_cache

from engine.chord.model import Chord
from engine.ear.limits import blurred, lift_that_clears, muddiness
from engine.ear.roughness import hutchinson_knopoff, sethares
from engine.planning.model import PlannedStep
from engine.theory.pitch import spelled
from engine.voicing.tones import degree_of

TELLING = 3
"""Semitones below the limits that are worth a warning: the limits are a guide, not a wall (own choice)."""


def clarity(step: PlannedStep) -> dict[str, float]:
    """Return `below_limits`, semitones below the interval limits, and two models' figures in their own units,
    `roughness` by Hutchinson and Knopoff and `dissonance` by Sethares; 0 is clear."""
    return {
        "below_limits": muddiness(step.keys),
        "roughness": round(hutchinson_knopoff(step.keys), 4),
        "dissonance": round(sethares(step.keys), 4),
    }


@lru_cache(maxsize=4096)
def blur_words(chord: Chord, keys: tuple[int, ...], beneath: int | None) -> tuple[str, ...]:
    """Return a warning when a chord (MIDI numbers, ascending) sits too low to be clear, else nothing.

    `beneath` is the pitch class that somebody else plays under it. The tritone's limit is disputed, and never
    asserted.
    """
    found = [blur for blur in blurred(keys, beneath) if blur.high - blur.low != 6]
    if not found or sum(blur.short for blur in found) < TELLING:
        return ()
    low, high = (spelled(key, degree_of(chord, key % 12).name) for key in (found[0].low, found[0].high))
    lift = lift_that_clears(keys, beneath)
    steps = "a half step" if lift == 1 else f"{lift} half steps"
    return (f"{low} and {high} sit low and blur: clear from {steps} higher, or with the upper one an octave up",)
