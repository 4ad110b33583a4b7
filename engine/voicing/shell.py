"""Shells: third and seventh in one hand over root and fifth in the other, either of the two below."""

from collections.abc import Iterator

from engine.chord.model import Chord
from engine.voicing.basses import basses
from engine.voicing.model import Setting, Voicing
from engine.voicing.stacking import Keys, close, ordered
from engine.voicing.tones import fifth, seventh, tension_sets, third


def shell(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    """Yield shells; free fingers add the tensions that the symbol asks for.

    With a bass player the left hand may have the guide tones itself, the right hand then the colour, or nothing.
    """
    if setting.hands == "left":
        yield from _alone(chord, setting)
        return
    if setting.hands == "right":
        for core in cores(chord, setting, with_root=setting.owes_bass):
            yield from (Voicing((), keys) for keys in guides(core, setting.register.right))
        return
    rights = [keys for core in cores(chord, setting) for keys in guides(core, setting.register.right)]
    for low in basses(chord, setting):
        yield from (Voicing(low, high) for high in rights)
    if not setting.owes_bass:
        yield from _guides_below(chord, setting)


def cores(chord: Chord, setting: Setting, with_root: bool = False) -> Iterator[tuple[int, ...]]:
    """Yield the pitch classes of third and seventh with each choice of tensions, the third first.

    A triad has no seventh: its root or its fifth stands in. A power chord has no third: root and fifth are all there
    is.
    """
    low, high = third(chord), seventh(chord)
    partners = [high] if high else [chord.tone("1"), fifth(chord)]
    altered = chord.tone("b5", "#5")
    for partner in partners:
        for choice in (*tension_sets(chord), *([()] if setting.partial else [])):
            tones = [low or fifth(chord), partner, *choice]
            pcs = [tone.pc for tone in tones if tone]
            plain = tuple(dict.fromkeys([chord.root.pc, *pcs] if with_root else pcs))
            yield plain
            if altered and altered.pc not in plain:
                yield (*plain, altered.pc)


def guides(core: tuple[int, ...], within: tuple[int, int]) -> Iterator[Keys]:
    """Yield 3-7 and 7-3 with the rest on top, and every close inversion."""
    seen: set[Keys] = set()
    orders = [core, (core[1], core[0], *core[2:])] if len(core) > 2 else []
    for stack in (*close(core, within), *(keys for order in orders for keys in ordered(order, within))):
        if stack not in seen:
            seen.add(stack)
            yield stack


def _alone(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    """Yield 1-3-7 and 1-7-3 for the left hand alone, or 3-7 and 7-3 when somebody else has the root."""
    for core in cores(chord, setting):
        if not setting.owes_bass:
            yield from (Voicing(keys, ()) for keys in guides(core, setting.register.left))
            continue
        for order in (core, (core[1], core[0], *core[2:])) if len(core) > 1 else (core,):
            rest = tuple(pc for pc in order if pc != chord.bass.pc)
            for keys in ordered((chord.bass.pc, *rest), setting.register.left):
                if keys[0] <= setting.register.bass[1]:
                    yield Voicing(keys, ())


def _guides_below(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    low, high = third(chord), seventh(chord)
    if not (low and high):
        return
    colours = [tuple(tone.pc for tone in choice) for choice in tension_sets(chord)]
    for left in close((low.pc, high.pc), setting.register.left):
        for colour in dict.fromkeys(colours):
            if not colour:
                yield Voicing(left, ())
            top = [chord.root.pc, *([tone.pc] if (tone := fifth(chord)) else [])]
            for pcs in (colour, (*colour, *top[-1:]), (*colour, *top) if len(colour) < 2 else ()):
                if pcs:
                    yield from (Voicing(left, keys) for keys in close(pcs, setting.register.right))
