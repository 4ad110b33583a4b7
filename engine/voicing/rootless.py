"""Rootless voicings, for when a bass player has the root: 3-5-7-9 and 7-9-3-5, dominants with 13 for 5.

Source: common practice (A and B forms); two-hand forms lift the second note from the bottom an octave.
"""

from collections.abc import Iterator

from engine.chord.model import DEGREE_FIFTHS, Chord
from engine.voicing.basses import basses
from engine.voicing.model import Setting, Voicing
from engine.voicing.stacking import Keys, ordered
from engine.voicing.tones import is_alt, is_dominant, seventh, tension_sets, third


def rootless(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    """Yield A and B forms in the left hand, or lifted between both, or in the right hand over a root that is owed."""
    forms = list(dict.fromkeys(_forms(chord, setting)))
    if setting.hands == "left" and setting.owes_bass:
        return
    if setting.hands == "left":
        yield from (Voicing(keys, ()) for form in forms for keys in ordered(form, setting.register.left))
        return
    rights = [keys for form in forms for keys in ordered(form, setting.register.right)]
    if setting.hands == "right":
        yield from (Voicing((), keys) for keys in rights)
    elif setting.owes_bass:
        lefts = [low for low in basses(chord, setting) if len(low) == 1]
        yield from (Voicing(low, high) for low in lefts for high in rights)
    else:
        for form in forms:
            for keys in ordered(form, setting.register.left):
                yield from _shared(keys)


def _shared(keys: Keys) -> Iterator[Voicing]:
    """Yield a form between two hands: halved as it stands, or with the second note from the bottom an octave up."""
    half = len(keys) // 2
    yield Voicing(keys[:half], keys[half:])
    if len(keys) == 4:
        yield Voicing((keys[0], keys[2]), tuple(sorted((keys[3], keys[1] + 12))))
    elif len(keys) == 3:
        yield Voicing((keys[0],), (keys[2], keys[1] + 12))


def _forms(chord: Chord, setting: Setting) -> Iterator[tuple[int, ...]]:
    """Yield A and B forms as pitch classes low to high; three notes where a chord has no more to say."""
    three, seven = third(chord), seventh(chord)
    if three is None:
        return
    for five, nine in _colours(chord, setting):
        if seven is None:
            rest = [pc for pc in (three.pc, five, nine) if pc is not None]
            yield from (tuple(rest[turn:] + rest[:turn]) for turn in range(len(rest)))
        else:
            yield tuple(pc for pc in (three.pc, five, seven.pc, nine) if pc is not None)
            yield tuple(pc for pc in (seven.pc, nine, three.pc, five) if pc is not None)
        if seven is not None and nine is not None:
            yield three.pc, seven.pc, nine


def _colours(chord: Chord, setting: Setting) -> Iterator[tuple[int | None, int | None]]:
    """Yield what stands in the fifth's and the ninth's place, as pitch classes."""
    for choice in tension_sets(chord):
        asked = {tone.degree: tone.pc for tone in choice}
        ninths = [asked[degree] for degree in ("b9", "9", "#9") if degree in asked]
        fifths = [asked[degree] for degree in ("#11", "11", "b13", "13", "b5", "#5") if degree in asked]
        if not fifths:
            fifths = _usual_fifths(chord, setting)
        for five in fifths or (None,):
            yield from ((five, nine) for nine in ninths or _usual_ninths(chord, setting))


def _usual_fifths(chord: Chord, setting: Setting) -> list[int]:
    plain = [tone.pc for tone in chord.tones if tone.degree in ("5", "b5", "#5")]
    if is_dominant(chord) and not setting.to_minor and "5" in chord.degrees and not is_alt(chord):
        return [_pc(chord, "13"), *plain]
    return plain


def _usual_ninths(chord: Chord, setting: Setting) -> list[int]:
    """Return the ninth, or what takes its place as pitch classes: the root, or a flat ninth on the way to minor."""
    if "b5" in chord.degrees or seventh(chord) is None:
        return [chord.root.pc]
    if is_dominant(chord):
        return [_pc(chord, "b9"), chord.root.pc] if setting.to_minor else [_pc(chord, "9")]
    return [_pc(chord, "9"), chord.root.pc]


def _pc(chord: Chord, degree: str) -> int:
    return chord.root.up(DEGREE_FIFTHS[degree]).pc
