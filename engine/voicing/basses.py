"""What the left hand may put at the bottom: the bass alone, with its fifth, with its octave."""

from collections.abc import Iterator

from engine.chord.model import Chord
from engine.voicing.model import Setting
from engine.voicing.stacking import Keys, places
from engine.voicing.tones import fifth, slashed


def basses(chord: Chord, setting: Setting) -> Iterator[Keys]:
    """Yield root (or written bass), root-fifth, root-octave and root-fifth-octave, wherever the register lets them be.

    With a bass player a written slash bass is the bassist's: the left hand may have the root, or the fifth, alone or
    with the root above it, where a root close over that bass would blur.
    """
    bottom = chord.bass if setting.owes_bass else chord.root
    above = fifth(chord)
    for low in places(bottom.pc, setting.register.bass):
        yield (low,)
        yield (low, low + 12)
        if bottom == chord.root and above:
            middle = low + (above.pc - low) % 12
            yield (low, middle)
            yield (low, middle, low + 12)
        elif bottom != chord.root and chord.tone("1"):
            yield (low, low + ((chord.root.pc - low) % 12 or 12))
    if above and slashed(chord) and not setting.owes_bass and above.pc != chord.bass.pc:
        for low in places(above.pc, setting.register.bass):
            yield (low,)
            yield (low, low + (chord.root.pc - low) % 12)
