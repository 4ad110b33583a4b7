"""Shells: third and seventh in one hand over root and fifth in the other, either of the two below."""

from collections.abc import Iterator

from engine.chord.model import Chord
from engine.voicing.basses import basses
from engine.voicing.model import Setting, Voicing
from engine.voicing.stacking import Keys, close, ordered
from engine.voicing.tones import fifth, owed, seventh, slashed, sounding_third, tension_sets, third


def shell(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    """Yield shells; free fingers add the tensions that the symbol asks for.

    With a bass player the left hand may have the guide tones itself, the right hand then the colour, root or fifth.
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
    is. Of a chord over a written bass all that is owed comes, and the same less the bass.
    """
    low, high = sounding_third(chord), seventh(chord)
    partners = [high] if high else [chord.tone("1"), fifth(chord)]
    for partner in partners:
        for choice in (*tension_sets(chord), *([()] if setting.partial else [])):
            tones = [low or fifth(chord), partner, *choice]
            pcs = [tone.pc for tone in tones if tone]
            plain = tuple(dict.fromkeys([chord.root.pc, *pcs] if with_root else pcs))
            yield plain
            more = tuple(tone.pc for tone in owed(chord) if tone.pc not in plain and tone.degree != "1")
            if more:
                yield (*plain, *more)
    if slashed(chord):
        for choice in tension_sets(chord):
            whole = tuple(dict.fromkeys(tone.pc for tone in (*owed(chord), *choice)))
            yield whole
            if chord.bass.pc in whole and setting.owes_bass:
                yield tuple(pc for pc in whole if pc != chord.bass.pc)


def guides(core: tuple[int, ...], within: tuple[int, int]) -> Iterator[Keys]:
    """Yield 3-7 and 7-3 with the rest on top, and every close inversion."""
    seen: set[Keys] = set()
    orders = [core, (core[1], core[0], *core[2:])] if len(core) > 2 else []
    for stack in (*close(core, within), *(keys for order in orders for keys in ordered(order, within))):
        if stack not in seen:
            seen.add(stack)
            yield stack


def _alone(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    """Yield 1-3-7, 1-7-3, 1-7 and 1-3 for the left hand alone, or 3-7 and 7-3 when somebody else has the root.

    Of a triad 1-3-5 and the open 1-5-3.
    """
    if not setting.owes_bass:
        for core in dict.fromkeys(_filled(chord, setting)):
            yield from (Voicing(keys, ()) for keys in guides(core, setting.register.left))
        return
    for order in dict.fromkeys(_over_the_bass(chord, setting)):
        for keys in ordered((chord.bass.pc, *order), setting.register.left):
            if keys[0] <= setting.register.bass[1]:
                yield Voicing(keys, ())


def _filled(chord: Chord, setting: Setting) -> Iterator[tuple[int, ...]]:
    """Yield the cores, and those of two notes with the fifth or the root as a third: as many as a triad has."""
    for core in cores(chord, setting):
        yield core
        if len(core) == 2:
            fill = [tone.pc for tone in (fifth(chord), chord.tone("1")) if tone and tone.pc not in core]
            yield from ((*core, pc) for pc in fill)


def _over_the_bass(chord: Chord, setting: Setting) -> Iterator[tuple[int, ...]]:
    """Yield what a left hand alone stacks on the bass, as pitch classes low to high."""
    low, high = third(chord), seventh(chord)
    found = list(cores(chord, setting))
    found += [(low.pc,), (high.pc,), (low.pc, high.pc)] if low and high else [tuple(tone.pc for tone in owed(chord))]
    for core in found:
        rest = tuple(pc for pc in core if pc != chord.bass.pc)
        if slashed(chord) and chord.root.pc not in rest:
            rest = (*rest, chord.root.pc)
        if slashed(chord):
            # Whichever tone lies next to a written bass may blur with it, so each has its turn there.
            yield from (rest[turn:] + rest[:turn] for turn in range(1, len(rest)))
        yield rest
        if len(rest) > 1:
            yield (rest[1], rest[0], *rest[2:])
            yield tuple(rest[::-1])


def _guides_below(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    low, high = third(chord), seventh(chord)
    if not (low and high):
        return
    colours = [tuple(tone.pc for tone in choice) for choice in tension_sets(chord)]
    for left in close((low.pc, high.pc), setting.register.left):
        for colour in dict.fromkeys(colours):
            top = [chord.root.pc, *([tone.pc] if (tone := fifth(chord)) else [])]
            for pcs in (colour, (*colour, *top[-1:]), (*colour, top[0]), (*colour, *top) if len(colour) < 2 else ()):
                if pcs:
                    yield from (Voicing(left, keys) for keys in close(pcs, setting.register.right))
