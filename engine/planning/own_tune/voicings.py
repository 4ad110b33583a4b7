"""A chord's voicings under a note of the player's own tune, which the right hand has on top.

What a method finds below the note is shared between the hands anew: the right one takes from the top as much as it
reaches. A tone that the tune has is not played twice but for the bass, and what rubs against a held note may be left
out. Source: common practice.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from engine.chord.model import Chord
from engine.planning.tune_clashes import RUBS
from engine.voicing.methods import shapes
from engine.voicing.model import Register, Setting
from engine.voicing.stacking import Keys
from engine.voicing.textures import Hands, Texture, sized

WIDEST = 24
"""Semitones that no hand spans, not even rolled: what need not be asked of the fingers."""


@dataclass(frozen=True, slots=True)
class Top:
    """The `note` of the tune with which a chord begins, a MIDI number, and all that it holds over the chord."""

    note: int
    held: tuple[int, ...] = ()

    def up(self, semitones: int) -> "Top":
        """Return the same higher."""
        return Top(self.note + semitones, tuple(note + semitones for note in self.held))


@lru_cache(maxsize=1024)
def topped(kind: Chord, texture: Texture, setting: Setting, top: Top) -> tuple[Hands, ...]:
    """Return the hands of a texture with the tune's note on top, of a kind of chord on C (see `methods.shapes`)."""
    below = top.note - 1
    left, right = setting.register.left, setting.register.right
    cut = Register(setting.register.bass, (left[0], min(left[1], below)), (right[0], min(right[1], below)))
    found = sized(shapes(kind, texture.method, replace(setting, register=cut)), texture, setting.hands, setting.pattern)
    least = 2 if texture.name == "full" else 1
    every = (each for one in found if (one[0] + one[1])[-1] < top.note for each in _under(one, setting, top))
    return tuple(sorted({one for one in every if len(one[1]) >= least}))


def _under(hands: Hands, setting: Setting, top: Top) -> Iterator[Hands]:
    """Yield the ways to take a voicing with the tune's note above it."""
    keys = hands[0] + hands[1]
    # The bass stays whatever the tune has.
    bass = keys[:1] if setting.owes_bass and setting.hands != "right" else ()
    rest = tuple(key for key in keys[len(bass) :] if (key - top.note) % 12)
    clear = tuple(key for key in rest if not any(abs(key - held) in RUBS for held in top.held))
    for others in dict.fromkeys((rest, clear)):
        yield from _shared(bass + others, len(hands[0]), setting, top.note)


def _shared(keys: Keys, left: int, setting: Setting, note: int) -> Iterator[Hands]:
    """Yield the ways to share keys between the hands, the tune's note above them."""
    alone = setting.pattern or setting.hands != "both"
    for way in (min(left, len(keys)),) if alone else range(1, len(keys) + 1):
        one = keys[:way], (*keys[way:], note)
        if all(len(hand) <= 5 and (not hand or hand[-1] - hand[0] <= WIDEST) for hand in one):
            yield one
