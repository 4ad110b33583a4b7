"""Spreads: the left hand wide and low (1-5-8, 1-5-10, 1-7-10, 1-10), the right hand says what is left to say."""

from collections.abc import Iterator

from engine.chord.model import Chord, Tone
from engine.voicing.model import Setting, Voicing
from engine.voicing.stacking import Keys, close, places
from engine.voicing.tones import fifth, owed, seventh, tension_sets, third


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
    """Yield the wide left hands over the root; over a written bass its octave, with a chord tone between or without."""
    bottom = chord.bass if setting.owes_bass else chord.root
    for low in places(bottom.pc, setting.register.bass):
        tenth = _above(low, third(chord), 12)
        seven = _above(low, seventh(chord))
        if bottom == chord.root:
            five = _above(low, fifth(chord))
            wide = [(five, low + 12), (five, tenth), (seven, tenth), (tenth,)]
        else:
            between = [_above(low, tone, 5) for tone in chord.tones]
            wide = [(low + 12,), *((key,) for key in between), *((key, low + 12) for key in between)]
        for keys in wide:
            present = [key for key in keys if key is not None]
            if len(present) == len(keys) and sorted({low, *present}) == [low, *present]:
                yield (low, *present)


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
