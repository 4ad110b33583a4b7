"""The textbook stacks: close position, and drop 2, the same with the second note from the top an octave lower."""

from collections.abc import Iterator

from engine.chord.model import Chord
from engine.voicing.basses import basses
from engine.voicing.model import Setting, Voicing
from engine.voicing.stacking import Keys
from engine.voicing.stacking import close as stacks
from engine.voicing.triad import upper_sets


def close(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    """Yield every inversion in close position in one hand, the bass or the root below it in the other."""
    sets = list(dict.fromkeys(upper_sets(chord)))
    if setting.hands == "left":
        found = [keys for pcs in sets for keys in stacks(pcs, setting.register.left)]
        yield from (Voicing(keys, ()) for keys in found if not setting.owes_bass or keys[0] % 12 == chord.bass.pc)
        return
    lefts = [low for low in basses(chord, setting) if len(low) == 1] if setting.hands == "both" else [()]
    for pcs in sets:
        for keys in stacks(pcs, setting.register.right):
            yield from (Voicing(low, keys) for low in lefts)
    if setting.hands == "both" and not setting.owes_bass:
        yield from _shared(sets, setting)


def _shared(sets: list[tuple[int, ...]], setting: Setting) -> Iterator[Voicing]:
    """Yield the stack shared between two hands, thumb beside thumb, when somebody else has the bass."""
    for pcs in sets:
        for keys in stacks(pcs, (setting.register.left[0], setting.register.right[1])):
            half = len(keys) // 2
            if half and keys[half - 1] <= setting.register.left[1] and keys[half] >= setting.register.right[0]:
                yield Voicing(keys[:half], keys[half:])


def drop2(chord: Chord, setting: Setting) -> Iterator[Voicing]:
    """Yield drop 2 between two hands: the dropped note in the left, over the bass where it is owed."""
    if setting.hands != "both":
        return
    low, high = setting.register.left[0], setting.register.right[1]
    for pcs in dict.fromkeys(upper_sets(chord)):
        if len(pcs) < 3:
            continue
        for keys in stacks(pcs, (low, high)):
            yield from _dropped(chord, setting, keys)


def _dropped(chord: Chord, setting: Setting, keys: Keys) -> Iterator[Voicing]:
    down, rest = keys[-2] - 12, keys[:-2] + keys[-1:]
    if down < setting.register.left[0] or rest[-1] > setting.register.right[1]:
        return
    if not setting.owes_bass:
        yield Voicing((down, rest[0]), rest[1:])
        return
    for bass in places_below(chord, setting, down):
        yield Voicing((bass, down) if bass < down else (down,), rest)


def places_below(chord: Chord, setting: Setting, key: int) -> Iterator[int]:
    """Yield the places of the owed bass at or below `key`."""
    yield from (low[0] for low in basses(chord, setting) if len(low) == 1 and low[0] <= key)
