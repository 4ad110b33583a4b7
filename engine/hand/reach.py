"""How far a hand spans, thumb to little finger, in millimetres between key centres."""

from engine.hand.keyboard import OCTAVE

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
