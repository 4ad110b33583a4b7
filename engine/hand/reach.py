"""How far a hand spans, thumb to little finger, in millimetres between key centres."""

import re
from math import ceil

from engine.hand.keyboard import OCTAVE, span
from engine.theory.pitch import key_number, note_name

REACHES: dict[str, float] = {"an octave": 170.0, "a ninth": 200.0, "a tenth": 227.0}
"""Words a player uses -> millimetres: the widest such interval on any pair of keys (minor and major), plus a
millimetre. Source: computed from `keyboard`; an octave is given 5 mm of ease (own choice)."""

LEAST, MOST = OCTAVE - 45, OCTAVE * 2
"""A reach outside these is a slip of the pen."""


def reach_mm(value: str | float) -> float:
    """Read a reach: "a ninth", or millimetres.

    Raises:
        ValueError: neither, or outside `LEAST` to `MOST` millimetres.
    """
    if isinstance(value, str) and value.strip().lower() in REACHES:
        return REACHES[value.strip().lower()]
    try:
        millimetres = float(value)
    except (TypeError, ValueError):
        raise ValueError(f'no reach: {value!r}, say "an octave", "a ninth", "a tenth" or millimetres') from None
    if not LEAST <= millimetres <= MOST:
        raise ValueError(f"no reach: {millimetres:g} mm, a hand spans {LEAST:.0f} to {MOST:.0f} mm")
    return millimetres


_KEYS = re.compile(r"([A-Ga-g][#b]?)(-?\d)?(?:\s+to\s+|[\s-]+)([A-Ga-g][#b]?)(-?\d)?")


def typed_reach(text: str) -> float:
    """Read a reach as a player says it: as `reach_mm` does, or by the widest two keys that a hand holds, from thumb to
    little finger: `C E` or `C to E` is a tenth (an octave and more), `C3 B3` is written out. In whole millimetres.

    Raises:
        ValueError: neither, or wider or narrower than hands are.
    """
    keys = _KEYS.fullmatch(text.strip())
    if keys is None:
        return reach_mm(text)
    low, high = (name[0].upper() + name[1:] for name in (keys[1], keys[3]))
    if keys[2] and keys[4]:
        width = span(key_number(low + keys[2]), key_number(high + keys[4]))
    else:
        start = note_name(low).pc
        width = span(start, start + 12 + (note_name(high).pc - start) % 12)
    return reach_mm(ceil(width))
