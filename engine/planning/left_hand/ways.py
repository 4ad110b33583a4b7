"""The ways of a left hand through its patterns: which positions it takes, which fingers, and what its jumps cost.

A position is a grip that the hand stays in for some strokes, as many as it reaches. From position to position the hand
moves at the price of any shift, and of all ways with the same beginning and end only the cheapest can be on a best
plan: what stands before and after a chord knows nothing of the inside. A few of these are kept, see `MOST_FINGERINGS`
and `MOST_ENDS`, so that a better one may be missed.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise, product

import numpy as np

from engine.chord.model import Chord
from engine.hand.fingering import FREE, Fingerings, Ints, Numbers, fingerings
from engine.hand.grip import LEFT, Grip
from engine.hand.keyboard import span
from engine.planning.cheapest import CEILING
from engine.planning.hand_states import Figure, HandStates, hand_states, under_fingers
from engine.planning.left_hand.slots import LEAD, WALK, Pattern
from engine.planning.left_hand.tones import figures, walked
from engine.planning.shift_costs import PATTERN, weighed
from engine.planning.weights import GRAIN, WEIGHTS
from engine.voicing.stacking import Keys

MOST_FINGERINGS = 6
"""Fingerings of a position of several keys that are considered, the best first (own choice)."""

MOST_ENDS = 3
"""Ways to each last position that are kept for each first one's keys, the cheapest first (own choice)."""

FARTHEST = 12
"""Semitones from note to note of a walking line at most (common practice: an octave)."""


@dataclass(frozen=True, slots=True, eq=False)
class Ways(Fingerings):
    """Fingerings of the first position, each with the figure that it begins; `points` are of the whole figure."""

    figures: tuple[Figure, ...]


@dataclass(frozen=True, slots=True)
class _Layer:
    """The positions that may come at one place of a way; `struck` the strokes taken in a position, () for the position
    itself struck once."""

    positions: tuple[Keys, ...]
    struck: tuple[Keys, ...] = ()


_Lattice = tuple[_Layer, ...]

Way = tuple[float, Figure]
"""A figure with its points: those of its first position, and what it costs inside."""


def ways(basses: Ints, chords: Sequence[Chord], pattern: Pattern, reach: float, floor: int) -> Ways:
    """Return the ways through a pattern over each of some bass keys (n x 5, the first one counts), each with the
    chord over it; `floor` is the lowest key of the keyboard."""
    known = _known(pattern, reach, floor)
    asked = list(zip(chords, basses[:, 0].tolist(), strict=True))
    missing = [over for over in dict.fromkeys(asked) if over not in known]
    if missing:
        lattices = [_lattices(chord, low, pattern, reach, floor) for chord, low in missing]
        held = _Held([one for found in lattices for one in found], reach, pattern)
        known.update((over, held.through(found)) for over, found in zip(missing, lattices, strict=True))
    solved = [(number, *way) for number, over in enumerate(asked) for way in known[over]]
    under = np.array([under_fingers(figure.first) for _, _, figure in solved], dtype=np.int32).reshape(len(solved), 5)
    points = np.array([points for _, points, _ in solved])
    return Ways(under, points, np.array([number for number, *_ in solved], dtype=np.intp), tuple(f for *_, f in solved))


@lru_cache(maxsize=256)
def _known(pattern: Pattern, reach: float, floor: int) -> dict[tuple[Chord, int], list[Way]]:
    """Return what is remembered of a pattern: the ways over a chord from a bass key."""
    return {}


def _lattices(chord: Chord, low: int, pattern: Pattern, reach: float, floor: int) -> tuple[_Lattice, ...]:
    if WALK in pattern.tones or LEAD in pattern.tones:
        layers = walked(chord, low, pattern.tones, pattern.ahead, floor)
        return tuple(tuple(_Layer(positions) for positions in one) for one in _not_turning_back(layers))
    laid = figures(chord, low, pattern.name, pattern.tones, floor)
    return tuple(dict.fromkeys(_positions(strokes, reach) for strokes in laid))


def _not_turning_back(layers: tuple[tuple[Keys, ...], ...]) -> tuple[tuple[tuple[Keys, ...], ...], ...]:
    """Return a walking line's choices so that its last note is another one than that two strokes before."""
    if len(layers) < 4:
        return (layers,)
    *first, two_before, one_before, last = layers
    return tuple((*first, (keys,), one_before, tuple(other for other in last if other != keys)) for keys in two_before)


def _positions(strokes: tuple[Keys, ...], reach: float) -> _Lattice:
    """Return strokes in as few positions as the hand reaches."""
    found: list[tuple[tuple[int, ...], list[Keys]]] = []
    for keys in strokes:
        more = tuple(sorted({*found[-1][0], *keys})) if found else keys
        if found and len(more) <= 5 and span(more[0], more[-1]) <= reach and _able(more, reach):
            found[-1] = more, [*found[-1][1], keys]
        else:
            found.append((keys, [keys]))
    return tuple(_Layer((position,), tuple(struck)) for position, struck in found)


@lru_cache(maxsize=8192)
def _able(keys: Keys, reach: float) -> bool:
    return len(_fingered([keys], reach).of) > 0


def _fingered(positions: Sequence[Keys], reach: float) -> Fingerings:
    rows = np.array([[*keys, *[FREE] * (5 - len(keys))] for keys in positions], dtype=np.int32).reshape(-1, 5)
    return fingerings(rows, LEFT, reach)


@dataclass(frozen=True, slots=True)
class _End:
    """A way to a last position: its cost in grains with its first position and without, and how it is found again."""

    cost: int
    inner: int
    keys: Keys
    way: tuple[_Lattice, list[Numbers], list[Numbers], int, int]


class _Held:
    """The grips of all positions that some ways go through, and what it costs to go between them."""

    def __init__(self, lattices: Sequence[_Lattice], reach: float, pattern: Pattern) -> None:
        self.pattern = pattern
        positions = tuple(dict.fromkeys(keys for one in lattices for layer in one for keys in layer.positions))
        found = _fingered(positions, reach)
        begin = np.searchsorted(found.of, np.arange(len(positions) + 1)).tolist()
        self.grips: dict[Keys, range] = {}
        for number, keys in enumerate(positions):
            most = begin[number + 1] - begin[number] if len(keys) == 1 else MOST_FINGERINGS
            self.grips[keys] = range(begin[number], min(begin[number + 1], begin[number] + most))
        self.states: HandStates = hand_states(np.ascontiguousarray(found.under.T), LEFT)
        self.points = found.points
        self.costs = np.rint(found.points * WEIGHTS["grip"].value * GRAIN).astype(np.intp)
        self.steps = self._weighed(lattices, pattern.sound)

    def through(self, lattices: Sequence[_Lattice]) -> list[Way]:
        """Return the kept ways through any of some lattices, the cheapest first."""
        found = [end for lattice in lattices for end in self._ends(lattice)]
        kept: Counter[Keys] = Counter()
        chosen = []
        for end in sorted(found, key=lambda end: (end.cost, end.inner)):
            kept[end.keys] += 1
            if kept[end.keys] <= MOST_ENDS:
                chosen.append(self._told(end))
        return chosen

    def _ends(self, lattice: _Lattice) -> Iterator[_End]:
        """Yield the cheapest ways to each last position."""
        again = [keys for layer in lattice[1:] for keys in layer.positions if _comes_again(keys, lattice)]
        different = tuple(dict.fromkeys(again))
        # What comes again is taken with the same fingers again.
        for held in product(*(self.grips[keys] for keys in different)):
            only = dict(zip(different, held, strict=True))
            layers = [self._numbers(layer, only) for layer in lattice]
            if not all(len(layer) for layer in layers):
                continue
            inner, back = self._least(layers)
            total = inner + self.costs[layers[0]][:, None]
            begin = 0
            for keys in lattice[-1].positions:
                size = 1 if keys in only else len(self.grips[keys])
                part = total[:, begin : begin + size]
                for place in np.argsort(part, axis=None, kind="stable")[:MOST_ENDS].tolist():
                    first, last = divmod(place, size)
                    if part[first, last] < CEILING:
                        way = (lattice, layers, back, first, begin + last)
                        yield _End(int(part[first, last]), int(inner[first, begin + last]), keys, way)
                begin += size

    def _numbers(self, layer: _Layer, only: dict[Keys, int]) -> Numbers:
        """Return the numbers of a layer's grips."""
        every = [[only[keys]] if keys in only else self.grips[keys] for keys in layer.positions]
        return np.array([number for grips in every for number in grips], dtype=np.intp)

    def _least(self, layers: Sequence[Numbers]) -> tuple[Numbers, list[Numbers]]:
        """Return the least inner cost from each grip of the first layer to each of the last, and the ways back."""
        total = np.where(np.eye(len(layers[0]), dtype=bool), 0, CEILING).astype(np.intp)
        back = []
        for before, after in pairwise(layers):
            every = total[:, :, None] + self.steps[before[:, None], after][None]
            back.append(every.argmin(axis=1))
            total = np.minimum(every.min(axis=1), CEILING)
        return total, back

    def _weighed(self, lattices: Sequence[_Lattice], sound: str) -> Numbers:
        """Return what each step costs that a way may take, grip x grip, with how the second one lies; `CEILING` for
        others."""
        steps = [
            (one, two, not after.struck)
            for lattice in lattices
            for before, after in pairwise(lattice)
            for one in before.positions
            for two in after.positions
            if before.struck or 0 < abs(one[0] - two[0]) <= FARTHEST
        ]
        pairs = [
            (first, second, walks)
            for one, two, walks in dict.fromkeys(steps)
            for first in self.grips[one]
            for second in self.grips[two]
        ]
        befores, afters = (np.array([pair[side] for pair in pairs], dtype=np.intp) for side in (0, 1))
        # A note that is passed on the way lies under any finger.
        lying = np.where([pair[2] for pair in pairs], 0, self.costs[afters])
        shifts = weighed(self.states, befores, afters, PATTERN, sound) + lying
        costs = np.full((len(self.costs), len(self.costs)), CEILING, dtype=np.intp)
        costs[befores, afters] = np.rint(shifts * WEIGHTS["pattern"].value)
        return costs

    def _told(self, end: _End) -> Way:
        lattice, layers, back, first, last = end.way
        strokes: list[tuple[Keys, Grip]] = []
        path = _trace(back, first, last)
        for layer, numbers, place in zip(lattice, layers, path, strict=True):
            grip = self.states.grip(int(numbers[place]))
            strokes += [(struck, grip) for struck in layer.struck or (grip.keys,)]
        points = float(self.points[layers[0][first]])
        figure = Figure(tuple(strokes), end.inner, self._led_to(strokes[-1][0][0]))
        return points + end.inner / (WEIGHTS["grip"].value * GRAIN), figure

    def _led_to(self, key: int) -> int:
        """Return the bass key that a walking line leads to with its last key, 0 where it leads nowhere."""
        if LEAD not in self.pattern.tones or self.pattern.ahead is None:
            return 0
        return next(key + by for by in (-1, 1, -2, 2) if (key + by - self.pattern.ahead) % 12 == 0)


def _comes_again(keys: Keys, lattice: _Lattice) -> bool:
    """Return whether a hand comes back to a position of several keys, as a stride does to its chord."""
    return len(keys) > 1 and sum(keys in layer.positions for layer in lattice) > 1


def _trace(back: list[Numbers], first: int, last: int) -> list[int]:
    path = [last]
    for arrived in reversed(back):
        path.append(int(arrived[first, path[-1]]))
    return path[::-1]
