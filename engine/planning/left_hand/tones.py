"""Where the tones of a left hand's pattern may lie over its bass."""

from itertools import product

from engine.chord.model import Chord
from engine.ear.limits import muddiness
from engine.planning.left_hand.slots import BASS, BOTH, CHORD, FIFTH, OCTAVE, TENTH, WALK
from engine.voicing.stacking import Keys, close, places
from engine.voicing.tones import fifth, seventh, slashed, third

HIGHEST_WALKED = 55
"""G3: a walking line goes no higher (common practice)."""

CHORDS = (47, 64)
"""B2 to E4: where a stride's chords lie (common practice: about middle C, clear of mud)."""

STRIDE, HIGHEST_OF_STRIDE, LEAST_OF_STRIDE = "stride", 45, 9
"""A2: a stride's bass notes lie no higher, and its chords a major sixth above the bass at least: it is a jump (common
practice, the figures own choice)."""

BELOW = ("root and fifth", STRIDE)
"""Patterns whose fifth may lie below the root, as a bass player has it."""

PERFECT, TENTHS = 7, (16, 15, 17, 14)
"""Semitones of a fifth; of what passes for a tenth, the usual one first."""


def figures(chord: Chord, low: int, name: str, tones: tuple[str, ...], floor: int) -> tuple[tuple[Keys, ...], ...]:
    """Return all ways to lay out a pattern over a bass key: the keys of each stroke; a tone lies in one place."""
    different = tuple(dict.fromkeys(tones))
    options = [_options(chord, low, name, tone, floor) for tone in different]
    placed = (dict(zip(different, keys, strict=True)) for keys in product(*options))
    return tuple(tuple(where[tone] for tone in tones) for where in placed)


def _options(chord: Chord, low: int, name: str, tone: str, floor: int) -> tuple[Keys, ...]:
    if tone == CHORD:
        return _chords(chord, low)
    if tone == FIFTH:
        five = low + over(chord)
        below = ((five - 12,),) if name in BELOW and five - 12 >= floor else ()
        return below if name == STRIDE and five > HIGHEST_OF_STRIDE else ((five,), *below)
    if name == STRIDE and low > HIGHEST_OF_STRIDE:
        return ()
    return {BASS: ((low,),), OCTAVE: ((low + 12,),), TENTH: ((low + tenth(chord),),), BOTH: ((low, low + 12),)}[tone]


def over(chord: Chord) -> int:
    """Return the semitones from a chord's bass up to what alternates with it: its fifth, as the chord has it; over a
    written bass the root or fifth that lies nearest to a fifth above; its octave where there is neither."""
    tones = [fifth(chord), chord.tone("1") if slashed(chord) else None]
    above = [(tone.pc - chord.bass.pc) % 12 for tone in tones if tone]
    return min((apart for apart in above if apart), key=lambda apart: abs(apart - PERFECT), default=12)


def tenth(chord: Chord) -> int:
    """Return the semitones from a chord's bass up to its third above the octave; over a written bass to the chord tone
    that lies there; to the octave where there is none."""
    if not slashed(chord):
        tone = third(chord)
        return 12 + (tone.pc - chord.bass.pc) % 12 if tone else 12
    above = {(tone.pc - chord.bass.pc) % 12 for tone in chord.tones}
    return next((apart for apart in TENTHS if apart % 12 in above), 12)


def _chords(chord: Chord, low: int) -> tuple[Keys, ...]:
    """Return a stride's chords: third and seventh, with the fifth or without; of a triad all three notes."""
    three, five, seven = (tone.pc if tone else None for tone in (third(chord), fifth(chord), seventh(chord)))
    wanted = [(three, seven), (three, five, seven)] if seven is not None else [(chord.root.pc, three, five)]
    sets = dict.fromkeys(tuple(pc for pc in pcs if pc is not None) for pcs in wanted)
    least = low + LEAST_OF_STRIDE
    return tuple(keys for pcs in sets for keys in close(pcs, CHORDS) if keys[0] >= least and muddiness(keys) == 0)


def walked(
    chord: Chord, low: int, tones: tuple[str, ...], ahead: int | None, floor: int
) -> tuple[tuple[Keys, ...], ...]:
    """Return for each stroke of a walking line the keys it may take: the bass, other chord tones, and a half or a whole
    step from the next bass at last."""
    within = floor, HIGHEST_WALKED
    tones_of = [tone.pc for tone in chord.tones if tone.degree in PLAIN]
    chordal = tuple((key,) for pc in tones_of for key in places(pc, within) if key != low)
    leads = () if ahead is None else tuple((key,) for by in (-2, -1, 1, 2) for key in places((ahead + by) % 12, within))
    return tuple({BASS: ((low,),), WALK: chordal}.get(tone, leads) for tone in tones)


PLAIN = ("1", "b3", "3", "4", "b5", "5", "#5", "6", "bb7", "b7", "7")
"""The degrees that a walking line goes through; tensions are left to the right hand (common practice)."""
