"""The voicing methods by name, and the voicings of a chord by each.

To add a method: write a `Method` in a file of its own, and name it here and in `engine/method_names.py`.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from engine.chord.model import Chord, Tone
from engine.method_names import AUTO, METHOD_CHOICES
from engine.theory.pitch import NoteName
from engine.voicing.close_and_drop2 import close, drop2
from engine.voicing.colours import coloured
from engine.voicing.model import Method, Register, Setting, Voicing
from engine.voicing.rootless import rootless
from engine.voicing.shell import shell
from engine.voicing.spread import spread
from engine.voicing.stacking import Keys, places
from engine.voicing.tones import demands, pc_bits, sketches, slashed
from engine.voicing.triad import triad

METHODS: dict[str, Method] = {
    "shell": shell,
    "triad": triad,
    "spread": spread,
    "rootless": rootless,
    "close": close,
    "drop2": drop2,
}


def chosen(method: str) -> tuple[str, ...]:
    """Return the methods that a name stands for: itself, or all of them for auto.

    Raises:
        ValueError: no method of that name.
    """
    if method != AUTO and method not in METHODS:
        raise ValueError(f"no voicing method {method!r}: {', '.join(METHOD_CHOICES)}")
    return tuple(METHODS) if method == AUTO else (method,)


def kind(chord: Chord) -> Chord:
    """Return the same kind of chord on C: what all transpositions of a chord have in common."""
    down = -chord.root.fifths
    tones = tuple(Tone(tone.degree, tone.name.up(down)) for tone in chord.tones)
    return Chord("", NoteName(0), chord.bass.up(down), chord.quality, tones)


@lru_cache(maxsize=4096)
def shapes(kind: Chord, method: str, setting: Setting) -> tuple[tuple[Keys, Keys], ...]:
    """Return every voicing (left, right) of a kind of chord by a method that says it, in ascending order: hands not
    crossing, no key twice.

    The root is C and each register reaches 11 semitones further down: a chord on another root has the same shapes
    higher, as far as its registers allow (`fits`).
    """
    wide = replace(setting, register=_lowered(setting.register))
    owes = setting.owes_bass and setting.hands != "right"
    # In rootless voicings of a right hand alone another instrument has the root, whoever plays it.
    bare = setting.hands == "right" and method == "rootless"
    if setting.pattern and setting.hands == "left":
        # The tune over a pattern says the rest.
        return tuple(sorted({(one.left, one.right) for one in _offered(kind, method, wide)}))
    demand = sketches(kind) if owes and setting.hands == "left" else demands(kind, setting.owes_bass and not bare)
    found = set()
    said: dict[Keys, int] = {}
    meant = [kind, *coloured(kind, setting.to_minor)] if setting.colour else [kind]
    for voicing in (one for chord in meant for one in _offered(chord, method, wide)):
        left, right = voicing.left, voicing.right
        if (left and right and left[-1] >= right[0]) or not (left or right):
            continue
        for hand in (left, right):
            if hand not in said:
                said[hand] = pc_bits(hand) if _holdable(hand) else NOT_HELD
        told = said[left] | said[right]
        if told < NOT_HELD and demand.told(told, (left or right)[0], owes, setting.partial):
            found.add((left, right))
    return tuple(sorted(found))


def _offered(chord: Chord, method: str, setting: Setting) -> Iterable[Voicing]:
    """Yield the voicings of a method; over a left hand that plays a pattern those that the right hand has where
    somebody else plays the bass, over the bass alone."""
    if not setting.pattern:
        yield from METHODS[method](chord, setting)
        return
    above = replace(setting, hands="right", owes_bass=False)
    rights = {one.right for one in METHODS[method](chord, above)} if setting.hands == "both" else {()}
    if slashed(chord):
        # A written bass that is a tone of the chord need not sound twice.
        rights |= {tuple(key for key in right if key % 12 != chord.bass.pc) for right in rights}
    for low in places(chord.bass.pc, setting.register.bass):
        yield from (Voicing((low,), right) for right in rights)


NOT_HELD = 1 << 12
"""Stands for the pitch classes of a hand that cannot be: beyond all twelve."""


def _holdable(keys: Keys) -> bool:
    """Return whether the keys ascend and five fingers are enough."""
    return len(keys) <= 5 and all(low < high for low, high in pairwise(keys))


@dataclass(frozen=True, slots=True)
class Bounds:
    """Where a hand may lie: its lowest key from `lowest` to `bass`, its highest up to `highest`; a hand without keys
    lies anywhere."""

    lowest: int
    bass: int
    highest: int


def bounds(setting: Setting) -> tuple[Bounds, Bounds]:
    """Return the bounds of the left hand, which may owe the bass, and of the right."""
    (low, high), (bass, highest_bass), right = setting.register.left, setting.register.bass, setting.register.right
    left = Bounds(max(low, bass), highest_bass, high) if setting.owes_bass else Bounds(low, high, high)
    return left, Bounds(right[0], right[1], right[1])


def voicings(chord: Chord, method: str, setting: Setting) -> tuple[Voicing, ...]:
    """Return every voicing of a chord by one method that lies in the registers."""
    up, (below, above) = chord.root.pc, bounds(setting)
    found = [
        Voicing(tuple(key + up for key in left), tuple(key + up for key in right))
        for left, right in shapes(kind(chord), method, setting)
    ]
    return tuple(one for one in found if _fits(one.left, below) and _fits(one.right, above))


def _fits(keys: Keys, within: Bounds) -> bool:
    return not keys or (within.lowest <= keys[0] <= within.bass and keys[-1] <= within.highest)


def _lowered(register: Register) -> Register:
    return Register(*((low - 11, high) for low, high in (register.bass, register.left, register.right)))
