"""How the built-in sound's notes are made, as data: an electric piano, an organ, a pad, and two clicks.

A tone is a sine whose phase is moved by another sine of the same frequency (frequency modulation; source: J. Chowning,
The Synthesis of Complex Audio Spectra by Means of Frequency Modulation, 1973): one to one, so that all partials are
harmonic and the fundamental stays the strongest. The constants are own choice.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tone:
    """`attack` and `release` in seconds; `decay` the seconds in which middle C falls to a third, 0 where it sounds on;
    `dull` the modulation of every note, `bright` what a loud one has more, which falls within `mellows` seconds."""

    attack: float
    release: float
    decay: float
    bright: float
    mellows: float
    dull: float


PIANO = Tone(attack=0.002, release=0.06, decay=2.2, bright=1.15, mellows=0.25, dull=0.25)
ORGAN = Tone(attack=0.006, release=0.03, decay=0.0, bright=0.0, mellows=1.0, dull=0.9)
PAD = Tone(attack=0.12, release=0.25, decay=0.0, bright=0.0, mellows=1.0, dull=0.45)


def tone_of(program: int) -> Tone:
    """Return the tone nearest to a program (from 0). Source: General MIDI System Level 1, families of programs."""
    return ORGAN if 16 <= program <= 23 else PAD if 40 <= program <= 55 or 88 <= program <= 95 else PIANO


@dataclass(frozen=True, slots=True)
class ClickTone:
    """A click: a sine of `hertz` that falls to a third within `decay` seconds and is over after `lasts`."""

    hertz: float
    decay: float
    lasts: float


CLICKS: dict[int, ClickTone] = {75: ClickTone(2500.0, 0.008, 0.05), 37: ClickTone(1250.0, 0.008, 0.05)}
"""Percussion key -> its click: claves high, side stick low. Source of the keys: General MIDI System Level 1."""

A4_KEY, A4_HERTZ = 69, 440.0
"""Concert pitch. Source: ISO 16."""


def hertz(key: int) -> float:
    """Return the frequency of a key in equal temperament."""
    return float(A4_HERTZ * 2 ** ((key - A4_KEY) / 12))
