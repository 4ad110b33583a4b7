"""The voicing methods by name, and the voicings of a chord by each.

To add a method: write a `Method` in a file of its own, and name it here and in `engine/method_names.py`.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from engine.chord.model import Chord, Tone
from engine.method_names import AUTO, METHOD_CHOICES
from engine.theory.pitch import NoteName
from engine.voicing.colours import coloured
from engine.voicing.model import Method, Register, Setting, Voicing
from engine.voicing.rootless import rootless
from engine.voicing.shell import shell
from engine.voicing.spread import spread
from engine.voicing.stack import Keys
from engine.voicing.stacked import close, drop2
from engine.voicing.tones import demands, pc_bits
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


@dataclass(frozen=True, slots=True, eq=False)
class Shapes:
    """A method's voicings of one kind of chord, as if its root were C and each register reached 11 semitones further
    down.

    `lefts` and `rights` are the distinct hands, `pairs` the numbers of those that go together. A chord on another
    root has the same shapes higher, as far as its registers allow.
    """

    lefts: tuple[Keys, ...]
    rights: tuple[Keys, ...]
    pairs: tuple[tuple[int, int], ...]


def kind(chord: Chord) -> Chord:
    """Return the same kind of chord on C: what all transpositions of a chord have in common."""
    down = -chord.root.fifths
    tones = tuple(Tone(tone.degree, tone.name.up(down)) for tone in chord.tones)
    return Chord("", NoteName(0), chord.bass.up(down), "", tones)


@lru_cache(maxsize=4096)
def shapes(kind: Chord, method: str, setting: Setting) -> Shapes:
    """Return every voicing of a kind of chord that says it, hands not crossing, no key twice, in ascending order."""
    wide = replace(setting, register=_lowered(setting.register))
    demand = demands(kind)
    owes = setting.owes_bass and setting.hands != "right"
    found = set()
    said: dict[Keys, int] = {}
    meant = [kind, *coloured(kind, setting.to_minor)] if setting.colour else [kind]
    for voicing in (one for chord in meant for one in METHODS[method](chord, wide)):
        left, right = voicing.left, voicing.right
        if (left and right and left[-1] >= right[0]) or not (left or right):
            continue
        for hand in (left, right):
            if hand not in said:
                said[hand] = pc_bits(hand) if _holdable(hand) else NOT_HELD
        told = said[left] | said[right]
        if told < NOT_HELD and demand.told(told, (left or right)[0], owes, setting.partial):
            found.add((left, right))
    lefts = {left: number for number, left in enumerate(sorted({left for left, _ in found}))}
    rights = {right: number for number, right in enumerate(sorted({right for _, right in found}))}
    return Shapes(tuple(lefts), tuple(rights), tuple(sorted((lefts[left], rights[right]) for left, right in found)))


NOT_HELD = 1 << 12
"""Stands for the pitch classes of a hand that cannot be: beyond all twelve."""


def _holdable(keys: Keys) -> bool:
    """Return whether the keys ascend and five fingers are enough."""
    return len(keys) <= 5 and all(low < high for low, high in pairwise(keys))


def raised(keys: Keys, semitones: int) -> Keys:
    """Return keys transposed up."""
    return tuple(key + semitones for key in keys)


def fits_left(keys: Keys, setting: Setting) -> bool:
    """Return whether the left hand's keys lie in its register, the bass it owes in that of the bass."""
    low, high = setting.register.left
    if not keys:
        return True
    if setting.owes_bass and not setting.register.bass[0] <= keys[0] <= setting.register.bass[1]:
        return False
    return low <= keys[0] and keys[-1] <= high


def fits_right(keys: Keys, setting: Setting) -> bool:
    """Return whether the right hand's keys lie in its register."""
    low, high = setting.register.right
    return not keys or (low <= keys[0] and keys[-1] <= high)


def voicings(chord: Chord, method: str, setting: Setting) -> tuple[Voicing, ...]:
    """Return every voicing of a chord by one method that lies in the registers."""
    table, up = shapes(kind(chord), method, setting), chord.root.pc
    lefts = [raised(keys, up) for keys in table.lefts]
    rights = [raised(keys, up) for keys in table.rights]
    found = [Voicing(lefts[left], rights[right]) for left, right in table.pairs]
    return tuple(one for one in found if fits_left(one.left, setting) and fits_right(one.right, setting))


def _lowered(register: Register) -> Register:
    return Register(*((low - 11, high) for low, high in (register.bass, register.left, register.right)))
