"""The playable states of a chord: for each hand every grip of every voicing, as arrays that the planner can weigh at
once."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.chord.model import Chord
from engine.ear.limits import muddiness
from engine.hand.grip import Grip, finger_places, grips
from engine.plan.lineup import Zone
from engine.plan.weights import grains
from engine.voicing.methods import Keys, fits_left, fits_right, kind, raised, shapes, voicings
from engine.voicing.model import Setting, Voicing
from engine.voicing.tones import NEVER_DOUBLED, TENSIONS

Ints = NDArray[np.int32]

NEVER = 10**8
"""Grains of what cannot be: no sum of real costs comes near it, and four of it still fit 32 bits."""

STANDING_SLACK = 9000
"""Grains by which a voicing may stand worse than the same method's best before it is no choice any more (own
choice)."""

MOST_ALONE, MOST_EACH = (16, 32), (8, 14)
"""Left and right hands of one method at one chord that are considered, with every voicing they make: the ones that
stand best, when the method is alone or when all are asked (own choice)."""

FREE = 128
"""Stands for the key of a finger that holds none."""


@dataclass(frozen=True, slots=True, eq=False)
class HandStates:
    """The n different grips of one hand, as arrays that can be paired off or crossed.

    `keys`: n x 5, the key under each finger, thumb first, `FREE` for none. `at`: n x 5, where each finger is in half
    millimetres, on its key or at rest, 0 in a resting hand. `near`: n x 129, semitones from each key to the nearest
    one held, 0 for `FREE` and in a resting hand. `low`, `high`: n, the keys held as bits, from key 0 and from key 64.
    `tops`: n, MIDI numbers, 0 for a resting hand.
    """

    keys: Ints
    at: Ints
    near: Ints
    low: NDArray[np.uint64]
    high: NDArray[np.uint64]
    tops: Ints

    def rows(self) -> "HandStates":
        """Return the grips as rows, to be crossed with `columns`."""
        return self._at((slice(None), None))

    def columns(self) -> "HandStates":
        return self._at((None, slice(None)))

    def pick(self, numbers: Sequence[int]) -> "HandStates":
        """Return some of the grips, in the order given."""
        return self._at(list(numbers))

    def grip(self, number: int) -> Grip:
        """Return one grip, keys ascending."""
        held = sorted((int(key), finger) for finger, key in enumerate(self.keys[number], start=1) if key != FREE)
        return Grip(tuple(key for key, _ in held), tuple(finger for _, finger in held))

    def _at(self, where: Any) -> "HandStates":
        return HandStates(*(getattr(self, name)[where] for name in HandStates.__slots__))


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """The states of one hand: state n is the grip `held[n]` of `grips`, taken from the method `methods[n]`.

    The same grip may come from several methods; states of a method stand together.
    """

    grips: HandStates
    held: Ints
    methods: Ints

    def grip(self, state: int) -> Grip:
        return self.grips.grip(int(self.held[state]))

    def __len__(self) -> int:
        return len(self.held)


@dataclass(frozen=True, slots=True, eq=False)
class States:
    """A chord's joint states: `node[l, r]` is the standing cost in grains, NEVER where the two make no voicing;
    `blocks` where the two come from the same method."""

    left: Side
    right: Side
    node: Ints
    blocks: tuple[tuple[slice, slice], ...]
    names: tuple[str, ...]

    def method(self, left: int) -> str:
        """Return the method that a state of the left hand belongs to."""
        return self.names[int(self.left.methods[left])]


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


def resting() -> States:
    """Return the only state of a bar without a chord: both hands rest."""
    return _RESTING


@lru_cache(maxsize=4096)
def states(chord: Chord, ask: Ask) -> States | None:
    """Return the playable states of a chord, or None when nothing fits the hands."""
    choices: dict[Voicing, tuple[int, Voicing, int]] = {}
    for number, method in enumerate(ask.methods):
        for voicing, cost in _standing(chord, method, ask):
            # What two methods both offer is taken as the earlier one's.
            choices.setdefault(voicing, (number, voicing, cost))
    return _joined(list(choices.values()), ask) if choices else None


def only(chord: Chord, ask: Ask, voicing: Voicing, fingers: tuple[tuple[int, ...], tuple[int, ...]]) -> States | None:
    """Return the states of a voicing that the player insists on, with the fingers given or any, or None out of
    reach."""
    cost = sum(standing_terms(chord, voicing, ask).values())
    return _joined([(0, voicing, cost)], ask, fingers)


def completing(
    chord: Chord,
    ask: Ask,
    left: tuple[int, ...] | None,
    right: tuple[int, ...] | None,
    fingers: tuple[tuple[int, ...], tuple[int, ...]],
) -> States | None:
    """Return the states with one hand as the player insists, the other as any method has it, or None out of reach."""
    found: dict[Voicing, tuple[int, Voicing, int]] = {}
    for number, method in enumerate(ask.methods):
        for offered in voicings(chord, method, ask.setting):
            whole = Voicing(offered.left if left is None else left, offered.right if right is None else right)
            keys = whole.keys
            if whole not in found and all(low < high for low, high in pairwise(keys)):
                found[whole] = (number, whole, sum(standing_terms(chord, whole, ask).values()))
    return _joined(list(found.values()), ask, fingers) if found else None


def _standing(chord: Chord, method: str, ask: Ask) -> list[tuple[Voicing, int]]:
    """Return the voicings of a method within reach with their cost in grains, fingers aside, the best first."""
    table, up = shapes(kind(chord), method, ask.setting), chord.root.pc
    lefts = [_placed(raised(keys, up), 0, ask) for keys in table.lefts]
    rights = [_placed(raised(keys, up), 1, ask) for keys in table.rights]
    beneath = _beneath(chord, ask)
    weighed = []
    for (left, right), cost in zip(table.pairs, _fixed(kind(chord), method, ask.setting), strict=True):
        one, two = lefts[left], rights[right]
        if one and two:
            weighed.append((cost + one[1] + two[1] + _mud((one[0] + two[0])[:3], beneath), one[0], two[0]))
    weighed.sort()
    lefts_kept: dict[Keys, None] = {}
    rights_kept: dict[Keys, None] = {}
    for cost, below, above in weighed:
        if cost > weighed[0][0] + STANDING_SLACK:
            break
        if len(lefts_kept) < ask.most[0]:
            lefts_kept[below] = None
        if len(rights_kept) < ask.most[1]:
            rights_kept[above] = None
    return [
        (Voicing(below, above), cost) for cost, below, above in weighed if below in lefts_kept and above in rights_kept
    ]


def _placed(keys: Keys, side: int, ask: Ask) -> tuple[Keys, int] | None:
    """Return keys with what their place costs in grains, or None when the hand (0 left, 1 right) cannot have them."""
    fits = fits_right if side else fits_left
    if not fits(keys, ask.setting) or not grips(keys, HANDS[side], ask.reach[side]):
        return None
    return keys, sum(_zone_costs(keys, ask.zones[side]))


HANDS = ("left", "right")


@lru_cache(maxsize=4096)
def _fixed(kind: Chord, method: str, setting: Setting) -> tuple[int, ...]:
    """Return what each pair of a method's shapes costs on any root, in grains."""
    table = shapes(kind, method, setting)
    facts = _facts(kind)
    return tuple(sum(_shape_costs(table.lefts[one], table.rights[two], facts, setting)) for one, two in table.pairs)


_Facts = tuple[int, int | None, int, int]


def _facts(chord: Chord) -> _Facts:
    """Return pitch classes of a chord: those never doubled (as bits), the perfect fifth, the root, and (as bits) all
    that would be a tension."""
    never = _pcs(tone.pc for tone in chord.tones if tone.degree in NEVER_DOUBLED)
    plain = _pcs(tone.pc for tone in chord.tones if tone.degree not in TENSIONS)
    fifth = chord.tone("5")
    return never, fifth.pc if fifth else None, chord.root.pc, 0xFFF & ~plain


def _pcs(pcs: Iterable[int]) -> int:
    mask = 0
    for pc in pcs:
        mask |= 1 << pc
    return mask


_PLACE_TERMS = ("zone", "pull")
_SHAPE_TERMS = ("doubling", "ninth", "gap", "omission", "bassist", "thin", "plain")


def standing_terms(chord: Chord, voicing: Voicing, ask: Ask) -> dict[str, int]:
    """Return each standing term of a voicing in grains, fingers aside."""
    sides = [_zone_costs(keys, zone) for keys, zone in zip((voicing.left, voicing.right), ask.zones, strict=True)]
    place = {name: sum(costs) for name, costs in zip(_PLACE_TERMS, zip(*sides, strict=True), strict=True)}
    shape = _shape_costs(voicing.left, voicing.right, _facts(chord), ask.setting)
    return {"mud": _mud(voicing.keys[:3], _beneath(chord, ask)), **place, **dict(zip(_SHAPE_TERMS, shape, strict=True))}


def _shape_costs(left: Keys, right: Keys, facts: _Facts, setting: Setting) -> tuple[int, ...]:
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
        grains("plain", 1) if setting.colour and not tensions & _pcs(pcs) else 0,
    )


@lru_cache(maxsize=65536)
def _mud(low: Keys, beneath: int | None) -> int:
    return grains("mud", muddiness(low, beneath))


def _beneath(chord: Chord, ask: Ask) -> int | None:
    """Return the pitch class that somebody else plays beneath the hands."""
    return None if ask.setting.owes_bass else chord.bass.pc


@lru_cache(maxsize=65536)
def _zone_costs(keys: Keys, zone: Zone) -> tuple[int, int]:
    """Return what lying outside a zone and away from its middle costs a hand."""
    if not keys:
        return 0, 0
    outside = grains("zone", sum(zone.outside(key) for key in keys))
    return outside, grains("pull", abs(sum(keys) / len(keys) - zone.middle))


def _doubled(pcs: list[int], never: int) -> int:
    return sum(1 for number, pc in enumerate(pcs) if never >> pc & 1 and pc in pcs[:number])


def _ninths(keys: tuple[int, ...], root: int) -> int:
    """Count minor ninths between voices; a flat ninth over the root is the chord's own."""
    present = set(keys)
    return sum(1 for key in keys if key + 13 in present and key % 12 != root)


def _joined(
    choices: list[tuple[int, Voicing, int]], ask: Ask, fingers: tuple[tuple[int, ...], tuple[int, ...]] = ((), ())
) -> States | None:
    """Put voicings (method, voicing, cost), ordered by method, together into states."""
    lefts = _Collected("left", ask.reach[0], fingers[0])
    rights = _Collected("right", ask.reach[1], fingers[1])
    rows = [lefts.take(method, voicing.left) for method, voicing, _ in choices]
    columns = [rights.take(method, voicing.right) for method, voicing, _ in choices]
    if not lefts.held or not rights.held:
        return None
    hands = np.full((lefts.hands, rights.hands), NEVER, dtype=np.int32)
    hands[rows, columns] = [cost for _, _, cost in choices]
    # Every fingering of a left hand goes with every fingering of a right hand that it makes a voicing with.
    node = hands[np.array(lefts.of)[:, None], np.array(rights.of)[None, :]]
    node = np.minimum(NEVER, node + np.array(lefts.costs)[:, None] + np.array(rights.costs)[None, :]).astype(np.int32)
    if int(node.min()) >= NEVER:
        return None
    methods = dict.fromkeys(method for method, _, _ in choices)
    blocks = [(lefts.block(method), rights.block(method)) for method in methods]
    # Fingers that the player insists on may leave a method with one hand only.
    possible = tuple((left, right) for left, right in blocks if left.stop > left.start and right.stop > right.start)
    return States(lefts.side(), rights.side(), node, possible, ask.methods)


class _Collected:
    """Collects the states of one hand, method by method: `of` says for each which of the different hands it
    fingers."""

    def __init__(self, hand: str, reach: float, fingers: tuple[int, ...]) -> None:
        self.hand, self.reach, self.fingers = hand, reach, fingers
        self.grips: dict[Grip, int] = {}
        self.held: list[int] = []
        self.methods: list[int] = []
        self.costs: list[int] = []
        self.of: list[int] = []
        self._known: dict[tuple[int, Keys], int] = {}

    @property
    def hands(self) -> int:
        return len(self._known)

    def take(self, method: int, keys: Keys) -> int:
        """Return the number of the hand that holds `keys`; its states are added if they are new."""
        known = self._known.get((method, keys))
        if known is None:
            known = self._known[method, keys] = len(self._known)
            for grip, points in grips(keys, self.hand, self.reach):
                if not self.fingers or grip.fingers == self.fingers:
                    self.held.append(self.grips.setdefault(grip, len(self.grips)))
                    self.methods.append(method)
                    self.costs.append(grains("grip", points))
                    self.of.append(known)
        return known

    def block(self, method: int) -> slice:
        first = self.methods.index(method) if method in self.methods else 0
        return slice(first, first + self.methods.count(method))

    def side(self) -> Side:
        held, methods = np.array(self.held, dtype=np.int32), np.array(self.methods, dtype=np.int32)
        return Side(hand_states(tuple(self.grips), self.hand), held, methods)


def hand_states(held: Sequence[Grip], hand: str) -> HandStates:
    """Lay out grips as arrays."""
    laid = [_laid_out(grip, hand) for grip in held]
    keys = np.array([keys for keys, _ in laid], dtype=np.int32)
    bits = [sum(1 << key for key in grip.keys) for grip in held]
    return HandStates(
        keys=keys,
        at=np.array([at for _, at in laid], dtype=np.int32),
        near=_near(keys),
        low=np.array([mask & _HALF for mask in bits], dtype=np.uint64),
        high=np.array([mask >> 64 for mask in bits], dtype=np.uint64),
        tops=np.array([grip.keys[-1] if grip.keys else 0 for grip in held], dtype=np.int32),
    )


@lru_cache(maxsize=65536)
def _laid_out(grip: Grip, hand: str) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return the key under each finger, and where each finger is in half millimetres."""
    held = dict(zip(grip.fingers, grip.keys, strict=True))
    at = tuple(round(2 * place) for place in finger_places(grip, hand)) if held else (0,) * 5
    return tuple(held.get(finger, FREE) for finger in range(1, 6)), at


def _near(keys: Ints) -> Ints:
    """Return for each grip the semitones from every key to the nearest one held, 0 where none is."""
    apart = np.abs(np.arange(FREE)[None, :] - np.where(keys == FREE, -FREE, keys)[:, :, None]).min(axis=1)
    near = np.zeros((len(keys), FREE + 1), dtype=np.int32)
    near[:, :FREE] = np.where(apart < FREE, apart, 0)
    return near


_HALF = (1 << 64) - 1
_NOBODY = np.zeros(1, dtype=np.int32)
_RESTING = States(
    Side(hand_states((Grip((), ()),), "left"), _NOBODY, _NOBODY),
    Side(hand_states((Grip((), ()),), "right"), _NOBODY, _NOBODY),
    np.zeros((1, 1), dtype=np.int32),
    ((slice(0, 1), slice(0, 1)),),
    ("",),
)
