"""The rhythm of a bar as a row of signs, to be drawn beside the chords: where it is struck, held and silent."""

from dataclasses import replace
from fractions import Fraction

from engine.performance.onsets import Onset, onsets
from engine.performance.rhythms import Rhythm
from engine.theory.meter import Meter
from engine.theory.pulses import pulses

ACCENT, STROKE, SOFT, HELD, SILENT = "accent", "stroke", "soft", "held", "silent"
"""What a place of the row may be."""

ASCII = {ACCENT: "X", STROKE: "x", SOFT: ",", HELD: "-", SILENT: "."}
SIGNS = {ACCENT: "●", STROKE: "○", SOFT: "∘", HELD: "─", SILENT: "·"}
"""A sign for each; no two differ by colour alone."""

Row = tuple[tuple[str, ...], ...]
"""For each pulse of a bar the places in it: two, or three where the pulse has thirds."""


def rhythm_row(rhythm: Rhythm, meter: Meter, bar: int = 1, feel: str = "straight", hand: str = "right") -> Row:
    """Return what a hand (left or right) does in each part of each pulse of a bar, counted from 1 in its section."""
    struck = _held_over(rhythm, hand, meter, bar, feel) + onsets(rhythm, hand, meter, bar, feel)
    row = []
    for pulse in pulses(meter):
        parts = 3 if pulse.three or rhythm.thirds or (feel == "swing" and meter.lower <= 4) else 2
        step = pulse.beats / parts
        row.append(tuple(_sign(pulse.start + part * step, step, struck) for part in range(parts)))
    return tuple(row)


def row_text(row: Row, ascii_only: bool = False) -> str:
    """Return a row as text, a space between the pulses: ``○─ ─● ·· ··``."""
    signs = ASCII if ascii_only else SIGNS
    return " ".join("".join(signs[place] for place in pulse) for pulse in row)


def _held_over(rhythm: Rhythm, hand: str, meter: Meter, bar: int, feel: str) -> tuple[Onset, ...]:
    """Return the strokes of the bar before that last into this one, counted from this bar's start."""
    length = Fraction(meter.beats)
    before = onsets(rhythm, hand, meter, bar - 1, feel)
    return tuple(
        replace(onset, start=onset.start - length, end=onset.end - length) for onset in before if onset.end > length
    )


def _sign(at: Fraction, step: Fraction, struck: tuple[Onset, ...]) -> str:
    """Return the sign of the part of a pulse that begins `at` and lasts `step` beats."""
    sounds = SILENT
    for onset in struck:
        if at <= onset.start < at + step:
            return {1: ACCENT, 0: STROKE, -1: SOFT}[onset.stroke.accent]
        if onset.start < at:
            sounds = HELD if onset.end > at else SILENT
    return sounds
