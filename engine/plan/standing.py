"""What a voicing costs as it stands, fingers aside: how it sounds, where it lies, what it leaves out."""

from collections.abc import Callable
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
    weighed = _weighed(chord, method, ask)
    lefts, rights = _Hands(LEFT, ask.reach[0], ask.most[0]), _Hands(RIGHT, ask.reach[1], ask.most[1])
    best = None
    for cost, below, above in weighed:
        if best is not None and cost > best + STANDING_SLACK:
            break
        if lefts.takes(below) and rights.takes(above):
            best = cost if best is None else best
            lefts.kept[below] = rights.kept[above] = True
    return [
        (Voicing(below, above), cost)
        for cost, below, above in weighed
        if lefts.kept.get(below) and rights.kept.get(above)
    ]


def _weighed(chord: Chord, method: str, ask: Ask) -> list[tuple[int, Keys, Keys]]:
    """Return (cost in grains, left, right) of every voicing in the registers, reach not yet asked, the best first."""
    table, up = shapes(kind(chord), method, ask.setting), chord.root.pc
    lefts = [_placed(raised(keys, up), fits_left, ask.setting, ask.zones[0]) for keys in table.lefts]
    rights = [_placed(raised(keys, up), fits_right, ask.setting, ask.zones[1]) for keys in table.rights]
    root = beneath(chord, ask.setting)
    weighed = []
    for (left, right), cost in zip(table.pairs, _fixed(kind(chord), method, ask.setting), strict=True):
        one, two = lefts[left], rights[right]
        if one and two:
            weighed.append((cost + one[1] + two[1] + _mud((one[0] + two[0])[:3], root), one[0], two[0]))
    weighed.sort()
    return weighed


class _Hands:
    """The hands of one side that are considered: at most so many, each within reach; reach is asked once a hand."""

    def __init__(self, hand: str, reach: float, most: int) -> None:
        self.hand, self.reach, self.most = hand, reach, most
        self.kept: dict[Keys, bool] = {}

    def takes(self, keys: Keys) -> bool:
        """Return whether a hand is considered, or still can be."""
        known = self.kept.get(keys)
        if known is None and sum(self.kept.values()) < self.most:
            known = bool(grips(keys, self.hand, self.reach))
            if not known:
                self.kept[keys] = False
        return bool(known)


def _placed(keys: Keys, fits: Callable[[Keys, Setting], bool], setting: Setting, zone: Zone) -> tuple[Keys, int] | None:
    """Return keys with what their place costs in grains, or None outside the hand's register."""
    return (keys, sum(_zone_costs(keys, zone))) if fits(keys, setting) else None


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
    said = doubled = 0
    for key in keys:
        bit = 1 << key % 12
        doubled += bool(said & bit & never)
        said |= bit
    return (
        _EACH["doubling"] * doubled,
        _EACH["ninth"] * _ninths(keys, root),
        _EACH["gap"] * max(0, right[0] - left[-1] - 12) if left and right else 0,
        _EACH["omission"] if fifth is not None and not said >> fifth & 1 and said.bit_count() < 4 else 0,
        _EACH["bassist"] if not setting.owes_bass and said >> root & 1 else 0,
        _EACH["thin"] * max(0, 4 - len(keys)),
        _EACH["plain"] if setting.colour and not tensions & said else 0,
    )


_EACH = {term: grains(term, 1) for term in _SHAPE_TERMS}
"""Grains of one unit of each term."""


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


def _ninths(keys: tuple[int, ...], root: int) -> int:
    """Count minor ninths between voices; a flat ninth over the root is the chord's own."""
    if keys[-1] - keys[0] < 13:
        return 0
    return sum(1 for key in keys if key + 13 in keys and key % 12 != root)
