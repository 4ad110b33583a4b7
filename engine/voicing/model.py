"""What a voicing method is asked, and what it answers: which keys each hand takes, fingers not yet chosen."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from engine.chord.model import Chord


@dataclass(frozen=True, slots=True)
class Voicing:
    """Keys (MIDI numbers, ascending) of each hand; `left` lies below `right`."""

    left: tuple[int, ...]
    right: tuple[int, ...]

    @property
    def keys(self) -> tuple[int, ...]:
        """All keys, ascending."""
        return self.left + self.right


@dataclass(frozen=True, slots=True)
class Register:
    """Where notes may lie, in MIDI numbers, both ends included.

    `bass`: where the lowest note of the left hand may be when it owes the root or a written bass. `left`, `right`:
    what each hand may play at all.
    """

    bass: tuple[int, int]
    left: tuple[int, int]
    right: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Setting:
    """What a method must know beside the chord.

    `owes_bass`: nobody else plays the bass, so the lowest note is the chord's. `hands`: both, left or right.
    `to_minor`: the chord is a dominant that resolves to a minor chord, so natural 9 and 13 would contradict it.
    `partial`: what the symbol asks for beyond third and seventh may be left out, for hands in which it has no place.
    `colour`: free fingers may add tensions that nobody asked for. `full`: how many notes fill a chord. `last`: the song
    ends on the chord. `pattern`: the left hand plays a pattern from the bass, which is all that is known of it here.
    """

    register: Register
    owes_bass: bool = True
    hands: str = "both"
    to_minor: bool = False
    partial: bool = False
    colour: bool = False
    full: int = 4
    last: bool = False
    pattern: bool = False


Method = Callable[[Chord, Setting], Iterable[Voicing]]
"""A voicing method: every voicing it knows of a chord, reach and comfort not yet asked."""
