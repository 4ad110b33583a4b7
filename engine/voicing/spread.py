"""Spreads: the left hand wide and low (1-5-8, 1-5-10, 1-7-10, 1-10), the right hand says what is left to say."""

from collections.abc import Iterator

from engine.chord.model import Chord, Tone
from engine.voicing.model import Setting, Voicing
from engine.voicing.stacking import Keys, close, places
from engine.voicing.tones import fifth, owed, seventh, slashed, tension_sets, third


def spread(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    """Yield spread left hands with a right hand above, or alone; with the right hand alone there is no spread."""
    if setting.hands == "right":
        return
    for left in spreads(chord, setting):
        if setting.hands == "left":
            yield Voicing(left, ())
            continue
        for rest in _left_to_say(chord, left):
            if rest:
                yield from (Voicing(left, keys) for keys in close(rest, setting.register.right))


def spreads(chord: Chord, setting: Setting) -> Iterator[Keys]:
    """Yield the wide left hands over the root; over a written bass its octave, with a chord tone between or without.

    Beside a bass player who has a written bass, the same over the other tones of the chord, clear of that bass.
    """
    for bottom in _bottoms(chord, setting):
        for low in places(bottom, setting.register.bass):
            for keys in _over_root(chord, low) if bottom == chord.root.pc else _over_another(chord, low):
                present = [key for key in keys if key is not None]
                if len(present) == len(keys) and sorted({low, *present}) == [low, *present]:
                    yield (low, *present)


def _bottoms(chord: Chord, setting: Setting) -> Iterator[int]:
    """Yield the pitch classes that a left hand may have at the bottom."""
    if setting.owes_bass:
        yield chord.bass.pc
        return
    yield chord.root.pc
    if slashed(chord):
        yield from (tone.pc for tone in (fifth(chord), third(chord)) if tone and tone.pc != chord.bass.pc)


def _over_root(chord: Chord, low: int) -> list[tuple[int | None, ...]]:
    """Return what stands over a low root, low to high; None for a tone that the chord has not."""
    five, seven, tenth = (
        _above(low, fifth(chord)), _above(low, seventh(chord)), _above(low, third(chord), 12)
    )  # fmt: skip
    return [(five, low + 12), (five, tenth), (seven, tenth), (tenth,)]


def _over_another(chord: Chord, low: int) -> list[tuple[int | None, ...]]:
    """Return what stands over another low tone, low to high."""
    between = [_above(low, tone, 5) for tone in chord.tones]
    return [(low + 12,), *((key,) for key in between), *((key, low + 12) for key in between)]


def _above(low: int, tone: Tone | None, least: int = 1) -> int | None:
    """Return the key of a tone at least `least` semitones above `low`."""
    return None if tone is None else low + least + (tone.pc - low - least) % 12


def _left_to_say(chord: Chord, left: Keys) -> Iterator[tuple[int, ...]]:
    """Yield what the right hand still owes, alone and with the fifth, the root or both to fill."""
    said = {key % 12 for key in left}
    for choice in tension_sets(chord):
        tones = (*owed(chord), third(chord), seventh(chord), chord.tone("b5", "#5"), *choice)
        rest = tuple(dict.fromkeys(tone.pc for tone in tones if tone and tone.pc not in said))
        yield rest
        fill = [tone.pc for tone in (fifth(chord), chord.tone("1")) if tone and tone.pc not in rest]
        if len(rest) < 3:
            yield from ((*rest, pc) for pc in fill)
        if len(rest) < 2:
            yield (*rest, *fill)
        if not seventh(chord):
            # A triad in the right hand over a tenth: its third sounds twice, as on any piano.
            yield tuple(tone.pc for tone in owed(chord))
