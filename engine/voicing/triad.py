"""A triad in any inversion plus the seventh put where a finger is free, above or below, over the root."""

from collections.abc import Iterator

from engine.chord.model import Chord
from engine.voicing.basses import basses
from engine.voicing.model import Setting, Voicing
from engine.voicing.stacking import Keys, close, ordered
from engine.voicing.tones import fifth, plain_fifth, seventh, sounding_third, tension_sets, third

MOST = 4
"""Notes in the right hand: a triad and one more."""


def triad(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    """Yield the triad plus the seventh in one hand; tensions take the root's and the perfect fifth's place."""
    if setting.hands == "left":
        for keys in _grips(chord, setting.register.left):
            if not setting.owes_bass or keys[0] % 12 == chord.bass.pc:
                yield Voicing(keys, ())
        return
    rights = list(_grips(chord, setting.register.right))
    if setting.hands == "right":
        yield from (Voicing((), keys) for keys in rights)
        return
    for low in basses(chord, setting):
        yield from (Voicing(low, high) for high in rights)


def upper_sets(chord: Chord) -> Iterator[tuple[int, ...]]:
    """Yield what the right hand has over the bass: root, third, fifth and seventh, each tension in place of what may
    go.

    A ninth takes the root's place, then the perfect fifth goes; never more than `MOST` pitch classes.
    """
    for choice in tension_sets(chord):
        keep = [tone for tone in (sounding_third(chord), seventh(chord), chord.tone("b5", "#5")) if tone]
        spare = [tone for tone in (plain_fifth(chord), chord.tone("1")) if tone]
        said = list(dict.fromkeys(tone.pc for tone in (*keep, *choice)))
        room = max(0, MOST - len(said))
        if any(tone.degree in ("b9", "9", "#9") for tone in choice):
            room = min(room, 1)
        yield tuple(said[:MOST]) + tuple(tone.pc for tone in spare[:room] if tone.pc not in said)
        if room and seventh(chord) is not None and room < len(spare):
            yield tuple(said[:MOST]) + tuple(tone.pc for tone in spare[-room:] if tone.pc not in said)


def _grips(chord: Chord, within: tuple[int, int]) -> Iterator[Keys]:
    for pcs in dict.fromkeys(upper_sets(chord)):
        yield from close(pcs, within)
    seven, three, five = seventh(chord), third(chord), fifth(chord)
    if seven and three and five and not any(tension_sets(chord)):
        # The first inversion with the seventh below the third: wider, but the top three fingers keep the triad's shape.
        yield from ordered((seven.pc, three.pc, five.pc, chord.root.pc), within)
