"""What a voicing costs as it stands, fingers aside: how it sounds, where it lies, what it leaves out."""

from dataclasses import dataclass
from functools import lru_cache

from engine.chord.model import Chord
from engine.ear.limits import muddiness
from engine.hand.grip import LEFT, RIGHT, grips
from engine.plan.lineup import Zone
from engine.plan.weights import grains
from engine.voicing.methods import fits_left, fits_right, kind, raised, shapes
from engine.voicing.model import Setting, Voicing
from engine.voicing.stack import Keys
from engine.voicing.tones import NEVER_DOUBLED, TENSIONS, pc_bits

STANDING_SLACK = 9000
"""Grains by which a voicing may stand worse than its method's best and still be a choice (own choice)."""

MOST_ALONE, MOST_EACH = (16, 32), (8, 14)
"""Left and right hands of one method at one chord that are considered, with every voicing they make: the ones that
stand best, when the method is alone or when all are asked (own choice)."""


@dataclass(frozen=True, slots=True)
class Ask:
    """All that the states of a chord depend on beside the chord."""

    setting: Setting
    methods: tuple[str, ...]
    reach: tuple[float, float]
    zones: tuple[Zone, Zone]

    @property
    def most(self) -> tuple[int, int]:
        """How many left and right hands of each method are considered."""
        return MOST_ALONE if len(self.methods) == 1 else MOST_EACH


def standing(chord: Chord, method: str, ask: Ask) -> list[tuple[Voicing, int]]:
    """Return the voicings of a method within reach with their cost in grains, fingers aside, the best first."""
    table, up = shapes(kind(chord), method, ask.setting), chord.root.pc
    lefts = [_placed(raised(keys, up), 0, ask) for keys in table.lefts]
    rights = [_placed(raised(keys, up), 1, ask) for keys in table.rights]
    root = beneath(chord, ask.setting)
    weighed = []
    for (left, right), cost in zip(table.pairs, _fixed(kind(chord), method, ask.setting), strict=True):
        one, two = lefts[left], rights[right]
        if one and two:
            weighed.append((cost + one[1] + two[1] + _mud((one[0] + two[0])[:3], root), one[0], two[0]))
    weighed.sort()
    good = [(below, above) for cost, below, above in weighed if cost <= weighed[0][0] + STANDING_SLACK]
    # `good` is in order of cost, and a dict keeps the order: the first hands are the best ones.
    lefts_kept = set(list(dict.fromkeys(below for below, _ in good))[: ask.most[0]])
    rights_kept = set(list(dict.fromkeys(above for _, above in good))[: ask.most[1]])
    return [
        (Voicing(below, above), cost) for cost, below, above in weighed if below in lefts_kept and above in rights_kept
    ]


def _placed(keys: Keys, side: int, ask: Ask) -> tuple[Keys, int] | None:
    """Return keys with what their place costs in grains, or None when the hand (0 left, 1 right) cannot have them."""
    fits = fits_right if side else fits_left
    if not fits(keys, ask.setting) or not grips(keys, (LEFT, RIGHT)[side], ask.reach[side]):
        return None
    return keys, sum(_zone_costs(keys, ask.zones[side]))


@lru_cache(maxsize=4096)
def _fixed(kind: Chord, method: str, setting: Setting) -> tuple[int, ...]:
    """Return what each pair of a method's shapes costs on any root, in grains."""
    table = shapes(kind, method, setting)
    facts = _facts(kind)
    return tuple(sum(_shape_costs(table.lefts[one], table.rights[two], facts, setting)) for one, two in table.pairs)


_Facts = tuple[int, int | None, int, int]
"""See `_facts`; pitch classes, as `pc_bits` where it says bits."""


def _facts(chord: Chord) -> _Facts:
    """Return (bits of what is never doubled, perfect fifth, root, bits of all that would be a tension) of a chord."""
    never = pc_bits(tone.pc for tone in chord.tones if tone.degree in NEVER_DOUBLED)
    plain = pc_bits(tone.pc for tone in chord.tones if tone.degree not in TENSIONS)
    fifth = chord.tone("5")
    return never, fifth.pc if fifth else None, chord.root.pc, 0xFFF & ~plain


_PLACE_TERMS = ("zone", "pull")
_SHAPE_TERMS = ("doubling", "ninth", "gap", "omission", "bassist", "thin", "plain")


def standing_terms(chord: Chord, voicing: Voicing, ask: Ask) -> dict[str, int]:
    """Return each standing term of a voicing in grains, fingers aside."""
    sides = [_zone_costs(keys, zone) for keys, zone in zip((voicing.left, voicing.right), ask.zones, strict=True)]
    place = {name: sum(costs) for name, costs in zip(_PLACE_TERMS, zip(*sides, strict=True), strict=True)}
    shape = _shape_costs(voicing.left, voicing.right, _facts(chord), ask.setting)
    return {
        "mud": _mud(voicing.keys[:3], beneath(chord, ask.setting)),
        **place,
        **dict(zip(_SHAPE_TERMS, shape, strict=True)),
    }


def _shape_costs(left: Keys, right: Keys, facts: _Facts, setting: Setting) -> tuple[int, ...]:
    """Return what two hands cost wherever they lie, in grains, in the order of `_SHAPE_TERMS`."""
    keys = left + right
    never, fifth, root, tensions = facts
    pcs = [key % 12 for key in keys]
    distinct = len(set(pcs))
    return (
        grains("doubling", _doubled(pcs, never)) if distinct < len(pcs) else 0,
        grains("ninth", _ninths(keys, root)),
        grains("gap", max(0, right[0] - left[-1] - 12)) if left and right else 0,
        grains("omission", 1) if fifth is not None and fifth not in pcs and distinct < 4 else 0,
        grains("bassist", 1) if not setting.owes_bass and root in pcs else 0,
        grains("thin", max(0, 4 - len(keys))),
        grains("plain", 1) if setting.colour and not tensions & pc_bits(pcs) else 0,
    )


@lru_cache(maxsize=65536)
def _mud(low: Keys, beneath: int | None) -> int:
    return grains("mud", muddiness(low, beneath))


def beneath(chord: Chord, setting: Setting) -> int | None:
    """Return the pitch class that somebody else plays beneath the hands, None where nobody does."""
    return None if setting.owes_bass else chord.bass.pc


@lru_cache(maxsize=65536)
def _zone_costs(keys: Keys, zone: Zone) -> tuple[int, int]:
    """Return what lying outside a zone and away from its middle costs a hand, in grains, as `_PLACE_TERMS`."""
    if not keys:
        return 0, 0
    outside = grains("zone", sum(zone.outside(key) for key in keys))
    return outside, grains("pull", abs(sum(keys) / len(keys) - zone.middle))


def _doubled(pcs: list[int], never: int) -> int:
    """Count the notes that repeat a pitch class which is `never` doubled (bits)."""
    return sum(1 for number, pc in enumerate(pcs) if never >> pc & 1 and pc in pcs[:number])


def _ninths(keys: tuple[int, ...], root: int) -> int:
    """Count minor ninths between voices; a flat ninth over the root is the chord's own."""
    present = set(keys)
    return sum(1 for key in keys if key + 13 in present and key % 12 != root)
