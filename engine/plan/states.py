"""The playable states of a chord: for each hand every grip of every voicing, with what each pair costs as it stands."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from engine.chord.model import Chord
from engine.hand.grip import LEFT, RIGHT, Grip, fingered, grips
from engine.plan.cheapest import CEILING
from engine.plan.hand_states import HandStates, Ints, hand_states
from engine.plan.standing import Ask, standing, standing_terms
from engine.plan.weights import grains
from engine.voicing.methods import voicings
from engine.voicing.model import Voicing
from engine.voicing.stack import Keys

Fingers = tuple[tuple[int, ...], tuple[int, ...]]
"""Fingers of the left and the right hand, keys ascending; () for any."""


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """The states of one hand: state n is the grip `held[n]` of `grips`, taken from the method `methods[n]`.

    The same grip may come from several methods; states of a method stand together.
    """

    grips: HandStates
    held: Ints
    methods: Ints

    def grip(self, state: int) -> Grip:
        """Return the grip of a state."""
        return self.grips.grip(int(self.held[state]))

    def __len__(self) -> int:
        return len(self.held)


@dataclass(frozen=True, slots=True, eq=False)
class States:
    """A chord's joint states: those of the left hand crossed with those of the right.

    `node`: left x right, the standing cost in grains, `CEILING` where the two make no voicing. `blocks`: rows and
    columns where the two come from the same method; outside all is `CEILING`. `names`: what `Side.methods` counts.
    """

    left: Side
    right: Side
    node: Ints
    blocks: tuple[tuple[slice, slice], ...]
    names: tuple[str, ...]

    def grips(self, pair: tuple[int, int]) -> tuple[Grip, Grip]:
        """Return the grips of a pair of states."""
        return self.left.grip(pair[0]), self.right.grip(pair[1])

    def method(self, left: int) -> str:
        """Return the method that a state of the left hand belongs to."""
        return self.names[int(self.left.methods[left])]


def resting() -> States:
    """Return the only state of a bar without a chord: both hands rest."""
    return _RESTING


@lru_cache(maxsize=4096)
def states(chord: Chord, ask: Ask) -> States | None:
    """Return the playable states of a chord, or None when nothing fits the hands."""
    choices: dict[Voicing, tuple[int, Voicing, int]] = {}
    for number, method in enumerate(ask.methods):
        for voicing, cost in standing(chord, method, ask):
            # What two methods both offer is taken as the earlier one's.
            choices.setdefault(voicing, (number, voicing, cost))
    return _joined(list(choices.values()), ask) if choices else None


def only(chord: Chord, ask: Ask, voicing: Voicing, fingers: Fingers) -> States | None:
    """Return the states of a voicing that the player insists on, None where it is out of reach or the hands cross."""
    if not _ascends(voicing.keys):
        return None
    cost = sum(standing_terms(chord, voicing, ask).values())
    return _joined([(0, voicing, cost)], ask, fingers)


def completing(chord: Chord, ask: Ask, left: Keys | None, right: Keys | None, fingers: Fingers) -> States | None:
    """Return the states with the given hand as the player insists, the other (None) as any method has it."""
    found: dict[Voicing, tuple[int, Voicing, int]] = {}
    for number, method in enumerate(ask.methods):
        for offered in voicings(chord, method, ask.setting):
            whole = Voicing(offered.left if left is None else left, offered.right if right is None else right)
            if whole not in found and _ascends(whole.keys):
                found[whole] = (number, whole, sum(standing_terms(chord, whole, ask).values()))
    return _joined(list(found.values()), ask, fingers) if found else None


def _ascends(keys: Keys) -> bool:
    return all(low < high for low, high in pairwise(keys))


def _joined(choices: list[tuple[int, Voicing, int]], ask: Ask, fingers: Fingers = ((), ())) -> States | None:
    """Put voicings (method, voicing, cost in grains), ordered by method, together into states."""
    lefts = _Collected(LEFT, ask.reach[0], fingers[0])
    rights = _Collected(RIGHT, ask.reach[1], fingers[1])
    rows = [lefts.take(method, voicing.left) for method, voicing, _ in choices]
    columns = [rights.take(method, voicing.right) for method, voicing, _ in choices]
    if not lefts.held or not rights.held:
        return None
    hands = np.full((lefts.hands, rights.hands), CEILING, dtype=np.int32)
    hands[rows, columns] = [cost for _, _, cost in choices]
    # Every fingering of a left hand goes with every fingering of a right hand that it makes a voicing with.
    node = hands[np.array(lefts.of)[:, None], np.array(rights.of)[None, :]]
    node = np.minimum(CEILING, node + np.array(lefts.costs)[:, None] + np.array(rights.costs)[None, :]).astype(np.int32)
    if int(node.min()) >= CEILING:
        return None
    methods = dict.fromkeys(method for method, _, _ in choices)
    blocks = [(lefts.block(method), rights.block(method)) for method in methods]
    # Fingers that the player insists on may leave a method with one hand only.
    possible = tuple((left, right) for left, right in blocks if left.stop > left.start and right.stop > right.start)
    return States(lefts.side(), rights.side(), node, possible, ask.methods)


class _Collected:
    """Collects the states of one hand, method by method; `of` counts for each the hand (method and keys) it fingers."""

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
        """How many different hands have been taken, those without a fingering included."""
        return len(self._known)

    def take(self, method: int, keys: Keys) -> int:
        """Return the number of the hand that holds `keys`; its states are added if they are new."""
        known = self._known.get((method, keys))
        if known is None:
            known = self._known[method, keys] = len(self._known)
            asked = fingered(keys, self.fingers, self.hand, self.reach) if self.fingers else None
            for grip, points in grips(keys, self.hand, self.reach) if asked is None else asked:
                self.held.append(self.grips.setdefault(grip, len(self.grips)))
                self.methods.append(method)
                self.costs.append(grains("grip", points))
                self.of.append(known)
        return known

    def block(self, method: int) -> slice:
        """Return where the states of a method stand."""
        first = self.methods.index(method) if method in self.methods else 0
        return slice(first, first + self.methods.count(method))

    def side(self) -> Side:
        """Return the states as arrays."""
        held, methods = np.array(self.held, dtype=np.int32), np.array(self.methods, dtype=np.int32)
        return Side(hand_states(tuple(self.grips), self.hand), held, methods)


_NOBODY = np.zeros(1, dtype=np.int32)
_RESTING = States(
    Side(hand_states((Grip((), ()),), LEFT), _NOBODY, _NOBODY),
    Side(hand_states((Grip((), ()),), RIGHT), _NOBODY, _NOBODY),
    np.zeros((1, 1), dtype=np.int32),
    ((slice(0, 1), slice(0, 1)),),
    ("",),
)
