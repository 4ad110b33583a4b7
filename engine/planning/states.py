"""The playable states of a chord: for each hand every grip of every voicing, with what each pair costs as it stands."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

import numpy as np

from engine.chord.model import Chord
from engine.hand.fingering import FREE, Fingerings, Ints, Numbers, fingerings, insisted, with_rolls
from engine.hand.grip import LEFT, RIGHT, Grip
from engine.planning.candidates import considered
from engine.planning.cheapest import CEILING
from engine.planning.hand_states import Side, hand_states, states_of_grips
from engine.planning.kept_fingerings import kept, standing_worse
from engine.planning.left_hand.ways import Ways, ways
from engine.planning.own_tune.ways import tune_ways
from engine.planning.voicing_costs import TERMS, Ask, Standing, hands_with_tune, standing, standing_as_told
from engine.planning.weights import GRAIN, WEIGHTS
from engine.voicing.methods import voicings
from engine.voicing.model import Voicing
from engine.voicing.stacking import Keys
from engine.voicing.textures import Texture

Fingers = tuple[tuple[int, ...], tuple[int, ...]]
"""Fingers of the left and the right hand, keys ascending; () for any."""


MOST_KNOWN = 1024
"""Chords that are remembered for each way of asking, before all are forgotten (own choice)."""


@dataclass(frozen=True, slots=True, eq=False)
class States:
    """A chord's joint states: those of the left hand crossed with those of the right.

    `node`: left x right, the standing cost in grains, `CEILING` where the two make no voicing. `textures`: what
    `Side.textures` counts. `voicing`: left hand x right hand (`Side.of`), the row of `terms` that the two make, -1 for
    none.
    """

    left: Side
    right: Side
    node: Ints
    textures: tuple[Texture, ...]
    voicing: Ints
    terms: Ints

    def grips(self, pair: tuple[int, int]) -> tuple[Grip, Grip]:
        """Return the grips of a pair of states."""
        return self.left.grip(pair[0]), self.right.grip(pair[1])

    def texture(self, left: int) -> Texture:
        """Return the texture that a state of the left hand belongs to."""
        return self.textures[int(self.left.textures[left])]

    def standing(self, pair: tuple[int, int]) -> dict[str, int]:
        """Return the terms of a pair as it stands, in grains: what its fingers cost, then those of `TERMS`."""
        row = int(self.voicing[self.left.of[pair[0]], self.right.of[pair[1]]])
        terms: list[int] = self.terms[row].tolist()
        figure = self.left.figure(pair[0])
        inner = {"pattern": figure.inner} if figure else {}
        tune = self.right.figure(pair[1])
        inner |= {"tune": tune.inner} if tune else {}
        grip = int(self.node[pair]) - sum(terms) - sum(inner.values())
        return {"grip": grip, **inner, **dict(zip(TERMS, terms, strict=True))}


def resting() -> States:
    """Return the only state of a bar without a chord: both hands rest."""
    return _RESTING


def tune_alone(ask: Ask) -> States:
    """Return the states of a bar without a chord in which the right hand plays its own tune, the left one resting."""
    hands = (np.full((1, 5), FREE, dtype=np.int32), np.full((1, 5), FREE, dtype=np.int32))
    if ask.own:
        hands[1][0, 0] = ask.own.note
    one = np.zeros(1, dtype=np.int32)
    found = Standing(*hands, one, one, one, one, np.zeros((1, len(TERMS)), dtype=np.int32))
    ways = fingerings(hands[0], LEFT, ask.reach[0]), fingerings(hands[1], RIGHT, ask.reach[1])
    bare = replace(ask, textures=(Texture("", ""),))
    return _joined(found, np.zeros(1, dtype=np.intp), one, ways, bare, 1)[0] or resting()


InTextures = tuple[States | None, ...]
"""A chord's states in each texture asked for, None where it has none."""


def states_of(chords: Sequence[Chord], ask: Ask) -> Mapping[Chord, InTextures]:
    """Return the playable states of several chords, and of others: found at once, which is far quicker."""
    known = _known(ask)
    missing = [chord for chord in dict.fromkeys(chords) if chord not in known]
    if len(known) > MOST_KNOWN:
        known.clear()
        missing = list(dict.fromkeys(chords))
    if missing:
        found = standing(missing, ask)
        ways = _ways(found, missing, ask, ((), ()))
        many, chosen = len(ask.textures), considered(found, ways, ask)
        joined = _joined(found, chosen, (found.chords * many + found.textures)[chosen], ways, ask, len(missing) * many)
        known.update((chord, tuple(joined[at * many : (at + 1) * many])) for at, chord in enumerate(missing))
    return known


@lru_cache(maxsize=64)
def _known(ask: Ask) -> dict[Chord, InTextures]:
    """Return what is remembered of the chords asked for in one way."""
    return {}


def every(chord: Chord, ask: Ask) -> States | None:
    """Return the playable states of a chord in all textures together, each voicing in the first that offers it."""
    found = standing([chord], ask)
    ways = _ways(found, [chord], ask, ((), ()))
    chosen = considered(found, ways, ask)
    pairs = found.left[chosen] * len(found.rights) + found.right[chosen]
    chosen = chosen[np.sort(np.unique(pairs, return_index=True)[1])]
    return _joined(found, chosen, found.chords[chosen], ways, ask, 1)[0]


def only(chord: Chord, ask: Ask, voicing: Voicing, fingers: Fingers) -> States | None:
    """Return the states of a voicing that the player insists on, None where it is out of reach or the hands cross."""
    return _insisted(chord, ask, {voicing: 0}, fingers)


def completing(chord: Chord, ask: Ask, left: Keys | None, right: Keys | None, fingers: Fingers) -> States | None:
    """Return the states with the given hand as the player insists, the other (None) as any texture has it."""
    found: dict[Voicing, int] = {}
    for number, texture in enumerate(ask.textures):
        for offered in _offered(chord, texture, ask if right is None else replace(ask, own=None)):
            whole = Voicing(offered.left if left is None else left, offered.right if right is None else right)
            found.setdefault(whole, number)
    # Where a pin leaves the other hand no room, it rests, unless it owes the bass.
    resting = {} if ask.setting.owes_bass else {Voicing(left or (), right or ()): 0}
    return _insisted(chord, ask, found, fingers) or _insisted(chord, ask, resting, fingers)


def _offered(chord: Chord, texture: Texture, ask: Ask) -> Iterable[Voicing]:
    """Return the voicings of a texture's method, under the player's own tune where it is on top."""
    if ask.own is None:
        return voicings(chord, texture.method, ask.setting)
    return (Voicing(*hands) for hands in hands_with_tune(chord, texture, ask))


def _insisted(chord: Chord, ask: Ask, asked: dict[Voicing, int], fingers: Fingers) -> States | None:
    possible = {one: texture for one, texture in asked.items() if _can_be(one)}
    if not possible:
        return None
    found = standing_as_told(chord, list(possible), list(possible.values()), ask)
    chosen = np.arange(len(possible))
    return _joined(found, chosen, found.chords, _ways(found, [chord], ask, fingers), ask, 1)[0]


def _ways(found: Standing, chords: Sequence[Chord], ask: Ask, fingers: Fingers) -> tuple[Fingerings, Fingerings]:
    """Return how the left and the right hands can be held, with the fingers that the player insists on, if any; or the
    left one's ways through its pattern."""
    left: Fingerings
    if ask.pattern is None:
        left = _fingered(found.lefts, LEFT, ask.reach[0], ask.roll or ask.tenths, fingers[0])
    else:
        over = np.zeros(len(found.lefts), dtype=np.intp)
        over[found.left] = found.chords
        left = ways(
            found.lefts, [chords[of] for of in over.tolist()], ask.pattern, ask.reach[0], ask.setting.register.left[0]
        )
    return left, _fingered(found.rights, RIGHT, ask.reach[1], ask.roll, fingers[1])


def _fingered(hands: Ints, hand: str, reach: float, roll: bool, fingers: tuple[int, ...]) -> Fingerings:
    def held(some: Ints, within: float) -> Fingerings:
        return insisted(some, fingers, hand, within) if fingers else fingerings(some, hand, within)

    return with_rolls(hands, reach, held) if roll else held(hands, reach)


def _can_be(voicing: Voicing) -> bool:
    ascends = all(low < high for low, high in pairwise(voicing.keys))
    return ascends and len(voicing.left) <= 5 and len(voicing.right) <= 5


def _joined(
    found: Standing, chosen: Numbers, groups: Ints, ways: tuple[Fingerings, Fingerings], ask: Ask, count: int
) -> list[States | None]:
    """Put voicings, `chosen` from those found, together into states of `count` groups; `groups` says of each which,
    ascending. None for a group that has none."""
    if not len(chosen):
        return [None] * count
    ways = ways[0], _with_tune(found, chosen, ways[1], ask)
    textures, costs = found.textures[chosen], found.costs[chosen]
    left = _Hands((groups, textures, costs), found.left[chosen], ways[0], LEFT)
    right = _Hands((groups, textures, costs), found.right[chosen], ways[1], RIGHT)
    terms, ends = found.terms[chosen], np.searchsorted(groups, np.arange(count + 1)).tolist()
    return [
        _crossed((left.of_group(number), right.of_group(number)), costs[begin:end], terms[begin:end], ask)
        if begin < end
        else None
        for number, (begin, end) in enumerate(pairwise(ends))
    ]


def _with_tune(found: Standing, chosen: Numbers, ways: Fingerings, ask: Ask) -> Fingerings:
    """Return how the right hands of chosen voicings can be held, and go on through the player's own tune."""
    if not ask.between:
        return ways
    hands = np.unique(found.right[chosen]).astype(np.intp)
    return tune_ways(ways, hands, ask.between, ask.reach[1], ask.sound)


_Part = tuple[Side, Ints, Numbers]
"""One hand's states of a chord with what each costs, and the hand that each voicing has."""


def _crossed(parts: tuple[_Part, _Part], costs: Ints, terms: Ints, ask: Ask) -> States | None:
    """Return the states of a chord: every fingering of a left hand goes with every one of a right hand that it makes
    a voicing with."""
    (left, left_costs, rows), (right, right_costs, columns) = parts
    if not len(left) or not len(right):
        return None
    voicing = np.full((int(rows.max()) + 1, int(columns.max()) + 1), -1, dtype=np.int32)
    voicing[rows, columns] = np.arange(len(costs))
    pairs = voicing[left.of[:, None], right.of[None, :]]
    node = costs[pairs] + left_costs[:, None] + right_costs[None, :]
    apart = _tops(left)[:, None] < _lowest(right)[None, :]
    node = np.where((pairs < 0) | ~apart, CEILING, np.minimum(node, CEILING)).astype(np.int32)
    if int(node.min()) >= CEILING:
        return None
    return States(left, right, node, ask.textures, voicing, terms)


def _tops(side: Side) -> Ints:
    """Return how high each state of a left hand goes, 0 where it rests."""
    tops = np.array([figure.top for figure in side.figures], dtype=np.int32) if side.figures else side.grips.tops
    return tops[side.held]


def _lowest(side: Side) -> Ints:
    """Return the lowest key of each state of a right hand, `FREE` where it rests."""
    if side.figures:
        return np.array([figure.bottom for figure in side.figures], dtype=np.int32)[side.held]
    lowest: Ints = side.grips.keys.min(axis=0)[side.held]
    return lowest


class _Hands:
    """One side's states of several groups of voicings, chords or textures of chords; voicings, ordered by group, are
    given by group, texture and cost, and the hand."""

    def __init__(self, voicings: tuple[Ints, Ints, Ints], hands: Ints, ways: Fingerings, hand: str) -> None:
        groups, textures, costs = voicings
        first, self.number = _first_come(textures * (int(hands.max()) + 1) + hands)
        worse = standing_worse(groups * (int(textures.max()) + 1) + textures, self.number, costs)
        begin, end = _whole(ways, hands[first]) if isinstance(ways, Ways) else kept(ways, hands[first], worse)
        self.of = np.repeat(np.arange(len(first)), end - begin)
        way = np.arange(len(self.of)) + (begin - np.cumsum(end - begin) + (end - begin))[self.of]
        self.costs = np.rint(WEIGHTS["grip"].value * GRAIN * ways.points[way]).astype(np.int32)
        # A grip is told apart by its group too: what several groups hold is kept with each of them.
        grips, self.held = _first_come(groups[first][self.of] * (len(ways.of) + 1) + way)
        self.textures = textures[first][self.of]
        self.grips = hand_states(np.ascontiguousarray(ways.under[way[grips]].T), hand)
        self.figures = tuple(ways.figures[number] for number in way[grips]) if isinstance(ways, Ways) else ()
        self.ends = states_of_grips([figure.last for figure in self.figures], hand) if self.figures else None
        # Everything comes group by group: where each group's voicings, hands, states and grips begin.
        of_hand = groups[first]
        every = np.arange(int(groups[-1]) + 2)
        self.begin = [
            np.searchsorted(of, every).tolist() for of in (groups, of_hand, of_hand[self.of], of_hand[self.of][grips])
        ]

    def of_group(self, group: int) -> _Part:
        """Return the states of a group, what each costs, and the hand of each of its voicings."""
        (voicing, hand, state, grip), ends = ([at[group + end] for at in self.begin] for end in (0, 1))
        own = slice(state, ends[2])
        grips, figures = self.grips.part(grip, ends[3]), self.figures[grip : ends[3]]
        leaving = self.ends.part(grip, ends[3]) if self.ends else None
        side = Side(grips, self.held[own] - grip, self.textures[own], self.of[own] - hand, figures, leaving)
        return side, self.costs[own], self.number[voicing : ends[0]] - hand


def _whole(ways: Fingerings, hands: Ints) -> tuple[Numbers, Numbers]:
    """Return where the ways of hands begin and end."""
    return np.searchsorted(ways.of, hands, side="left"), np.searchsorted(ways.of, hands, side="right")


def _first_come(codes: Ints | Numbers) -> tuple[Numbers, Numbers]:
    """Return where each different code comes first, in that order, and for each code which of those it is."""
    _, first, which = np.unique(codes, return_index=True, return_inverse=True)
    order = np.argsort(first)
    place = np.empty_like(order)
    place[order] = np.arange(len(order))
    return first[order], place[which]


_NOBODY = np.zeros(1, dtype=np.intp)
_NO_TEXTURE = np.zeros(1, dtype=np.int32)
_REST = Side(hand_states(np.full((5, 1), FREE, dtype=np.int32), LEFT), _NOBODY, _NO_TEXTURE, _NOBODY)
_RESTING = States(
    _REST,
    Side(hand_states(np.full((5, 1), FREE, dtype=np.int32), RIGHT), _NOBODY, _NO_TEXTURE, _NOBODY),
    np.zeros((1, 1), dtype=np.int32),
    (Texture("", ""),),
    np.zeros((1, 1), dtype=np.int32),
    np.zeros((1, len(TERMS)), dtype=np.int32),
)
