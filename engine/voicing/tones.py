"""What a chord must say, what it may leave out, and what a degree sounds as.

Drop order (common practice): the perfect fifth first, then the root when somebody else has it; never the third, the
seventh (the sixth in a sixth chord, the fourth in a sus chord), nor an altered tone or a tension that the symbol asks
for.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from engine.chord.model import DEGREE_FIFTHS, Chord, Tone

THIRDS = ("b3", "3", "4")
SEVENTHS = ("b7", "7", "bb7", "6")
FIFTHS = ("5", "b5", "#5")
TENSIONS = ("b9", "9", "#9", "11", "#11", "b13", "13")
ALTERED = ("b9", "#9", "b5", "#11", "#5", "b13")
NEVER_DOUBLED = frozenset(("b3", "3", "b7", "7", "bb7", *ALTERED))
"""Common practice: root and fifth may be doubled; thirds, sevenths and altered tones are not."""


def is_dominant(chord: Chord) -> bool:
    """Return whether a chord has a major third and a minor seventh."""
    return {"3", "b7"} <= set(chord.degrees)


def is_alt(chord: Chord) -> bool:
    """Return whether a chord is an altered dominant, which leaves the choice of fifth and ninth to the player."""
    return is_dominant(chord) and {"b9", "#9"} <= set(chord.degrees) and "5" not in chord.degrees


def third(chord: Chord) -> Tone | None:
    """Return the tone that tells major from minor, or the fourth in its place; None where neither is."""
    return chord.tone(*THIRDS)


def sounding_third(chord: Chord) -> Tone | None:
    """Return the third or fourth that is played: none in an eleventh over a major third, a semitone below it (common
    practice: the third is left out; a triad with an added eleventh keeps it)."""
    return None if {"3", "11"} <= set(chord.degrees) and seventh(chord) else third(chord)


def seventh(chord: Chord) -> Tone | None:
    """Return the seventh, or the sixth of a sixth chord; None for triads."""
    return chord.tone(*SEVENTHS)


def fifth(chord: Chord) -> Tone | None:
    """Return the fifth, perfect or altered; None where there is none."""
    return chord.tone(*FIFTHS)


def plain_fifth(chord: Chord) -> Tone | None:
    """Return the perfect fifth that may fill a chord; none beside a flat thirteenth, a semitone above it (common
    practice: it takes the fifth's place)."""
    return None if "b13" in chord.degrees else chord.tone("5")


def tension_sets(chord: Chord) -> tuple[tuple[Tone, ...], ...]:
    """Return the choices of tensions (and altered fifths) that the symbol asks for, one set being enough.

    Most symbols give one choice; an altered dominant gives each altered ninth with each altered fifth; in a
    thirteenth the ninth and in an eleventh the ninth may be left out.
    """
    if is_alt(chord):
        ninths = [tone for tone in chord.tones if tone.degree in ("b9", "#9")]
        rest = [tone for tone in chord.tones if tone.degree in ("b5", "#11", "#5", "b13")]
        fifths = list({tone.pc: tone for tone in rest}.values())
        return tuple((low, high) for low in ninths for high in fifths) or tuple((low,) for low in ninths)
    asked = tuple(tone for tone in chord.tones if tone.degree in TENSIONS)
    top = [tone for tone in asked if tone.degree in ("11", "13")]
    lesser = tuple(tone for tone in asked if tone.degree != "9") if top and seventh(chord) else asked
    return (asked,) if lesser == asked else (asked, lesser)


def slashed(chord: Chord) -> bool:
    """Return whether the symbol writes a bass of its own."""
    return chord.bass != chord.root


def owed(chord: Chord) -> tuple[Tone, ...]:
    """Return the tones that any voicing owes, tensions aside: third and seventh and what tells them from another chord.

    Common practice: a triad is root, third and fifth; over a written bass the whole chord sounds, since its root says
    what it is; a sixth chord without its fifth is another chord's inversion; an altered fifth is never left out. An
    eleventh over a major third goes without the third.
    """
    low, high, five, root = sounding_third(chord), seventh(chord), fifth(chord), chord.tone("1")
    plain = not any(tension_sets(chord))
    whole = slashed(chord) or third(chord) is None or high is None
    fifths = (whole and plain) or slashed(chord) or (high is not None and high.degree == "6" and plain)
    if five is not None and five.degree == "5":
        five = plain_fifth(chord)
    altered = five is not None and five.degree != "5" and not is_alt(chord)
    wanted = (root if whole else None, low, five if altered or (fifths and not is_alt(chord)) else None, high)
    return tuple(tone for tone in wanted if tone)


@dataclass(frozen=True, slots=True)
class Demands:
    """What a chord asks of a voicing, pitch classes as bits: `least` third and seventh, `whole` with all that is owed,
    `choices` the sets of tensions of which one is enough, `root` and `bass`."""

    least: int
    whole: int
    choices: tuple[int, ...]
    root: int
    bass: int

    def met(self, keys: tuple[int, ...], owes_bass: bool, partial: bool = False) -> bool:
        """Return whether `keys` (ascending) tell the chord, from the owed bass up; `partial` asks only for `least`."""
        return self.told(pc_bits(keys), keys[0], owes_bass, partial)

    def told(self, said: int, lowest: int, owes_bass: bool, partial: bool = False) -> bool:
        """Return the same of pitch classes (bits) over a lowest key."""
        if owes_bass and self.bass != 1 << lowest % 12:
            return False
        if partial:
            return self.least & said == self.least
        return self.whole & said == self.whole and any(choice & said == choice for choice in self.choices)


def demands(chord: Chord, with_root: bool = False) -> Demands:
    """Return what no voicing of the chord may lack; `with_root` where nobody else has the root."""
    low, high = sounding_third(chord), seventh(chord)
    least = [low, high] if third(chord) else [high, fifth(chord)]
    root = chord.tone("1") if with_root or high is None else None
    return Demands(
        least=pc_bits(tone.pc for tone in (root, *least) if tone),
        whole=pc_bits(tone.pc for tone in (root, *least, *owed(chord)) if tone),
        choices=tuple(pc_bits(tone.pc for tone in choice) for choice in tension_sets(chord)),
        root=1 << chord.root.pc,
        bass=1 << chord.bass.pc,
    )


def sketches(chord: Chord) -> Demands:
    """Return what a left hand alone may not lack: the root with the third or the seventh; of a triad all three notes.

    Source: common practice, the shells 1-3 and 1-7: the tune says the other one, tensions are left out before mud.
    """
    low, high, root = third(chord), seventh(chord), chord.tone("1")
    told = [tone for tone in (low, high) if tone] if low and high else []
    whole = pc_bits(tone.pc for tone in ((root,) if told else owed(chord)) if tone)
    choices = tuple(pc_bits([tone.pc]) for tone in told) or (0,)
    return Demands(whole, whole, choices, 1 << chord.root.pc, 1 << chord.bass.pc)


def pc_bits(keys: Iterable[int]) -> int:
    """Return the pitch classes of keys (or pitch classes themselves) as bits: C is 1, B is 2048."""
    mask = 0
    for key in keys:
        mask |= 1 << key % 12
    return mask


@lru_cache(maxsize=8192)
def degree_of(chord: Chord, pc: int) -> Tone:
    """Return the tone a pitch class is in a chord: one of its own, or one that a method or a slash bass adds.

    Ties between names of the same sound fall to the chord's own tone, then to the nearest on the line of fifths.
    """
    for tone in chord.tones:
        if tone.pc == pc:
            return tone
    above = (pc - chord.root.pc) % 12
    degree = min(
        (degree for degree, fifths in DEGREE_FIFTHS.items() if fifths * 7 % 12 == above),
        key=lambda degree: (abs(DEGREE_FIFTHS[degree]), _added(degree)),
    )
    name = chord.bass if chord.bass.pc == pc else chord.root.up(DEGREE_FIFTHS[degree])
    return Tone(degree, name)


def _added(degree: str) -> int:
    # An added fourth or sixth is a tension: 11 and 13 say so.
    return 0 if degree in TENSIONS else 1
