"""The voicing methods by name, and the voicings of a chord by each.

To add a method: write a `Method` in a file of its own, and name it here.
"""

from functools import lru_cache

from engine.chord.model import Chord
from engine.voicing.model import Method, Setting, Voicing
from engine.voicing.rootless import rootless
from engine.voicing.shell import shell
from engine.voicing.spread import spread
from engine.voicing.stacked import close, drop2
from engine.voicing.tones import says
from engine.voicing.triad import triad

METHODS: dict[str, Method] = {
    "shell": shell,
    "triad": triad,
    "spread": spread,
    "rootless": rootless,
    "close": close,
    "drop2": drop2,
}

AUTO = "auto"


def chosen(method: str) -> tuple[str, ...]:
    """Return the methods that a name stands for: itself, or all of them for auto.

    Raises:
        ValueError: no method of that name.
    """
    if method != AUTO and method not in METHODS:
        raise ValueError(f"no voicing method {method!r}: {', '.join([AUTO, *METHODS])}")
    return tuple(METHODS) if method == AUTO else (method,)


@lru_cache(maxsize=16384)
def voicings(chord: Chord, method: str, setting: Setting) -> tuple[Voicing, ...]:
    """Return every voicing of a chord by one method that says the chord, hands not crossing, no key twice, in ascending order."""
    found = {voicing for voicing in METHODS[method](chord, setting) if _sound(voicing, setting) and _told(chord, voicing, setting)}
    return tuple(sorted(found, key=lambda voicing: (voicing.left, voicing.right)))


def _told(chord: Chord, voicing: Voicing, setting: Setting) -> bool:
    pcs = frozenset(key % 12 for key in voicing.keys)
    owes = setting.owes_bass and setting.hands != "right"
    return says(chord, pcs, owes) and (not owes or voicing.keys[0] % 12 == chord.bass.pc)


def _sound(voicing: Voicing, setting: Setting) -> bool:
    """Return whether each hand stays in its register, has fingers enough, and the left lies below the right."""
    keys, register = voicing.keys, setting.register
    if not keys or len(voicing.left) > 5 or len(voicing.right) > 5:
        return False
    ascending = all(low < high for low, high in zip(keys, keys[1:], strict=False))
    inside = all(register.left[0] <= key <= register.left[1] for key in voicing.left)
    return ascending and inside and all(register.right[0] <= key <= register.right[1] for key in voicing.right)
