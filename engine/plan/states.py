"""The playable states of a chord: for each hand every grip of every voicing, as arrays that the planner can weigh at once."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.chord.model import Chord
from engine.ear.limits import muddiness
from engine.hand.grip import Grip, finger_places, grips
from engine.plan.lineup import Zone
from engine.plan.weights import grains
from engine.voicing.methods import voicings
from engine.voicing.model import Setting, Voicing
from engine.voicing.tones import NEVER_DOUBLED

Ints = NDArray[np.int32]
Floats = NDArray[np.float64]

NEVER = 10**8
"""Grains of what cannot be: no sum of real costs comes near it, and four of it still fit 32 bits."""

STANDING_SLACK = 9000
"""Grains by which a voicing may stand worse than the same method's best before it is no choice any more (own choice)."""

MOST_VOICINGS = 60
"""Voicings of one method at one chord: the ones that stand best (own choice)."""


FREE = 128
"""Stands for the key of a finger that holds none."""


@dataclass(frozen=True, slots=True, eq=False)
class HandStates:
    """The n grips of one hand, each with its method, as arrays that can be paired off or crossed.

    `keys`: n x 5, the key under each finger, thumb first, `FREE` for none. `at`: n x 5, where each finger is in millimetres, on its
    key or at rest, NaN in a resting hand. `low`, `high`: n, the keys held as bits, from key 0 and from key 64. `tops`: n, MIDI
    numbers, NaN for a resting hand. `methods`: n, number of the method.
    """

    keys: Ints
    at: NDArray[np.float32]
    low: NDArray[np.uint64]
    high: NDArray[np.uint64]
    tops: Floats
    methods: Ints

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
        return HandStates(
            self.keys[where], self.at[where], self.low[where], self.high[where], self.tops[where], self.methods[where]
        )


def joined(parts: Sequence[HandStates]) -> HandStates:
    """Return all the grips of several sets, one after another."""
    return HandStates(*(np.concatenate([getattr(part, name) for part in parts]) for name in HandStates.__slots__))


@dataclass(frozen=True, slots=True, eq=False)
class States:
    """A chord's joint states: `node[l, r]` is the standing cost in grains, NEVER where the two grips make no voicing."""

    left: HandStates
    right: HandStates
    node: Ints
    names: tuple[str, ...]

    def method(self, left: int) -> str:
        return self.names[int(self.left.methods[left])]


@dataclass(frozen=True, slots=True)
class Ask:
    """All that the states of a chord depend on beside the chord."""

    setting: Setting
    methods: tuple[str, ...]
    reach: tuple[float, float]
    zones: tuple[Zone, Zone]


def resting() -> States:
    """Return the only state of a bar without a chord: both hands rest."""
    return _RESTING


@lru_cache(maxsize=4096)
def states(chord: Chord, ask: Ask) -> States | None:
    """Return the playable states of a chord, or None when nothing fits the hands."""
    choices = [
        (number, voicing, cost)
        for number, method in enumerate(ask.methods)
        for voicing, cost in _standing(chord, method, ask)
    ]
    return _joined(choices, ask) if choices else None


def only(chord: Chord, ask: Ask, voicing: Voicing, fingers: tuple[tuple[int, ...], tuple[int, ...]]) -> States | None:
    """Return the states of a voicing that the player insists on, with the fingers given or any, or None out of reach."""
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
            if whole not in found and all(low < high for low, high in zip(keys, keys[1:], strict=False)):
                found[whole] = (number, whole, sum(standing_terms(chord, whole, ask).values()))
    return _joined(list(found.values()), ask, fingers) if found else None


def _standing(chord: Chord, method: str, ask: Ask) -> list[tuple[Voicing, int]]:
    """Return the voicings of a method within reach with their cost in grains, hands aside, the best first."""
    reachable = [
        voicing
        for voicing in voicings(chord, method, ask.setting)
        if grips(voicing.left, "left", ask.reach[0]) and grips(voicing.right, "right", ask.reach[1])
    ]
    never = _mask(tone.pc for tone in chord.tones if tone.degree in NEVER_DOUBLED)
    weighed = [(voicing, sum(_standing_costs(chord, voicing, ask, never))) for voicing in reachable]
    weighed.sort(key=lambda pair: (pair[1], pair[0].left, pair[0].right))
    return [pair for pair in weighed[:MOST_VOICINGS] if pair[1] <= weighed[0][1] + STANDING_SLACK]


_STANDING = ("mud", "zone", "pull", "doubling", "ninth", "gap", "omission", "bassist", "thin")


def standing_terms(chord: Chord, voicing: Voicing, ask: Ask) -> dict[str, int]:
    """Return each standing term of a voicing in grains, fingers aside."""
    never = _mask(tone.pc for tone in chord.tones if tone.degree in NEVER_DOUBLED)
    return dict(zip(_STANDING, _standing_costs(chord, voicing, ask, never), strict=True))


def _standing_costs(chord: Chord, voicing: Voicing, ask: Ask, never: int) -> tuple[int, ...]:
    left, right = voicing.left, voicing.right
    keys = left + right
    root = chord.root.pc
    fifth = chord.tone("5")
    pcs = [key % 12 for key in keys]
    return (
        _mud(keys[:3]),
        _zone(left, ask.zones[0]) + _zone(right, ask.zones[1]),
        _pull(left, ask.zones[0]) + _pull(right, ask.zones[1]),
        grains("doubling", len(pcs) - len(set(pcs)) and _doubled(pcs, never)),
        grains("ninth", _ninths(keys, root)),
        grains("gap", max(0, right[0] - left[-1] - 12)) if left and right else 0,
        grains("omission", 1) if fifth and fifth.pc not in pcs and len(set(pcs)) < 4 else 0,
        grains("bassist", 1) if not ask.setting.owes_bass and root in pcs else 0,
        grains("thin", max(0, 4 - len(keys))),
    )


@lru_cache(maxsize=65536)
def _mud(low: tuple[int, ...]) -> int:
    return grains("mud", muddiness(low))


@lru_cache(maxsize=65536)
def _zone(keys: tuple[int, ...], zone: Zone) -> int:
    return grains("zone", sum(zone.outside(key) for key in keys))


@lru_cache(maxsize=65536)
def _pull(keys: tuple[int, ...], zone: Zone) -> int:
    return grains("pull", abs(sum(keys) / len(keys) - zone.middle)) if keys else 0


def _doubled(pcs: list[int], never: int) -> int:
    return sum(1 for number, pc in enumerate(pcs) if never >> pc & 1 and pc in pcs[:number])


def _ninths(keys: tuple[int, ...], root: int) -> int:
    """Count minor ninths between voices; a flat ninth over the root is the chord's own."""
    present = set(keys)
    return sum(1 for key in keys if key + 13 in present and key % 12 != root)


def _mask(pcs: Iterable[int]) -> int:
    mask = 0
    for pc in pcs:
        mask |= 1 << pc
    return mask


def _joined(
    choices: list[tuple[int, Voicing, int]], ask: Ask, fingers: tuple[tuple[int, ...], tuple[int, ...]] = ((), ())
) -> States | None:
    lefts = _Side("left", ask.reach[0], fingers[0])
    rights = _Side("right", ask.reach[1], fingers[1])
    cells = []
    for method, voicing, cost in choices:
        left, right = lefts.take(method, voicing.left), rights.take(method, voicing.right)
        cells += [(one, two, cost + lefts.costs[one] + rights.costs[two]) for one in left for two in right]
    if not cells:
        return None
    node = np.full((len(lefts.grips), len(rights.grips)), NEVER, dtype=np.int32)
    for one, two, cost in cells:
        node[one, two] = min(cost, int(node[one, two]))
    return States(lefts.arrays(), rights.arrays(), node, ask.methods)


class _Side:
    """Collects the grips of one hand, each key set with each method once."""

    def __init__(self, hand: str, reach: float, fingers: tuple[int, ...]) -> None:
        self.hand, self.reach, self.fingers = hand, reach, fingers
        self.grips: list[Grip] = []
        self.methods: list[int] = []
        self.costs: list[int] = []
        self._numbers: dict[tuple[int, tuple[int, ...]], list[int]] = {}

    def take(self, method: int, keys: tuple[int, ...]) -> list[int]:
        """Return the numbers of the grips of `keys`, added if they are new."""
        known = self._numbers.get((method, keys))
        if known is None:
            known = self._numbers[method, keys] = []
            for grip, points in grips(keys, self.hand, self.reach):
                if self.fingers and grip.fingers != self.fingers:
                    continue
                known.append(len(self.grips))
                self.grips.append(grip)
                self.methods.append(method)
                self.costs.append(grains("grip", points))
        return known

    def arrays(self) -> HandStates:
        return hand_states(self.grips, self.methods, self.hand)


def hand_states(held: Sequence[Grip], methods: Sequence[int], hand: str) -> HandStates:
    """Lay out grips as arrays."""
    keys = np.full((len(held), 5), FREE, dtype=np.int32)
    for number, grip in enumerate(held):
        for finger, key in zip(grip.fingers, grip.keys, strict=True):
            keys[number, finger - 1] = key
    bits = [sum(1 << key for key in grip.keys) for grip in held]
    nan = float("nan")
    return HandStates(
        keys=keys,
        at=np.array([finger_places(grip, hand) for grip in held], dtype=np.float32),
        low=np.array([mask & _HALF for mask in bits], dtype=np.uint64),
        high=np.array([mask >> 64 for mask in bits], dtype=np.uint64),
        tops=np.array([float(grip.keys[-1]) if grip.keys else nan for grip in held]),
        methods=np.array(methods, dtype=np.int32),
    )


_HALF = (1 << 64) - 1
_REST = (Grip((), ()),)
_RESTING = States(hand_states(_REST, [0], "left"), hand_states(_REST, [0], "right"), np.zeros((1, 1), dtype=np.int32), ("",))
