"""Where the keys lie: a real keyboard in millimetres, along the front of the keys.

Octave 164.5 mm (seven white keys of 23.5 mm). Black keys stand where the backs of the keys share the group evenly:
five backs from C to E, seven from F to B. Source: common practice of keyboard makers; tenths come out within 2 mm of
measured ones.
"""

OCTAVE = 164.5
"""Millimetres from a key to its octave, centre to centre. Source: the usual modern piano, 164 to 165 mm."""

WHITE = OCTAVE / 7
"""Millimetres from one white key to the next."""

UNIT = OCTAVE / 14
"""Half a white key: the published span tables of Balliauw et al. count in these."""

_BLACK = frozenset((1, 3, 6, 8, 10))
_GROUP_C = tuple((back + 0.5) * 3 * WHITE / 5 for back in range(5))
_GROUP_F = tuple(3 * WHITE + (back + 0.5) * 4 * WHITE / 7 for back in range(7))
_WHITE_PLACE = {pc: (step + 0.5) * WHITE for step, pc in enumerate((0, 2, 4, 5, 7, 9, 11))}
_PLACE = tuple(_WHITE_PLACE.get(pc, (_GROUP_C + _GROUP_F)[pc]) for pc in range(12))


def black(key: int) -> bool:
    """Return whether a key (MIDI number) is black."""
    return key % 12 in _BLACK


def place(key: int) -> float:
    """Return the centre of a key (MIDI number) in millimetres from the left edge of MIDI key 0."""
    return key // 12 * OCTAVE + _PLACE[key % 12]


def span(low: int, high: int) -> float:
    """Return the millimetres between the centres of two keys; a tenth from C is 211.5, from Db 225.6."""
    return place(high) - place(low)
