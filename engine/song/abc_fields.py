"""The fields of ABC notation that change how notes are read: key, unit length, meter.

Source: the ABC music standard 2.1 (2011), sections 3.1.6, 3.1.7 and 3.1.14.
"""

import re
from dataclasses import dataclass
from fractions import Fraction

from engine.theory.meter import Meter
from engine.theory.pitch import NoteName, note_name

_MODES = {"maj": 0, "ion": 0, "lyd": 1, "mix": -1, "dor": -2, "min": -3, "aeo": -3, "phr": -4, "loc": -5}
"""First three letters of a mode -> fifths from its tonic to the major key of the same signature."""
_KEY = re.compile(r"\s*([A-G])([#b♯♭]?)\s*(m(?![a-z])|[A-Za-z]{3,})?")


@dataclass(frozen=True, slots=True)
class AbcKey:
    """A key field: tonic, sharps of the signature (flats below zero), and whether its third is minor."""

    tonic: NoteName
    signature: int
    minor: bool


def read_abc_key(text: str) -> AbcKey:
    """Read what follows `K:`, as in G, Am, D dorian or Bb mix; none is C.

    Raises:
        ValueError: no key.
    """
    if text.strip().lower() in ("", "none"):
        return AbcKey(NoteName(0), 0, minor=False)
    found = _KEY.match(text)
    mode = (found[3] or "").lower() if found else ""
    mode = "min" if mode == "m" else mode[:3]
    if not found:
        raise ValueError(f"{text.strip()[:20]} is no key, write it as G, Am or D dor")
    shift = _MODES.get(mode, 0)
    tonic = note_name(found[1] + found[2])
    return AbcKey(tonic, tonic.fifths + shift, minor=mode in ("min", "aeo", "dor", "phr", "loc"))


def default_unit(meter: Meter) -> Fraction:
    """Return the unit length where no L: says it: a sixteenth in meters under 3/4, else an eighth of a whole note."""
    return Fraction(1, 16) if Fraction(meter.upper, meter.lower) < Fraction(3, 4) else Fraction(1, 8)


def read_unit(text: str) -> Fraction:
    """Read what follows `L:`, as in 1/8: a part of a whole note.

    Raises:
        ValueError: no such length.
    """
    found = re.fullmatch(r"\s*1(?:\s*/\s*(1|2|4|8|16|32|64))?\s*", text)
    if not found:
        raise ValueError(f"{text.strip()[:20]} is no length, write it as 1/8 or 1/4")
    return Fraction(1, int(found[1] or 1))
