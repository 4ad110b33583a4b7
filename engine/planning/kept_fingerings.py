"""Which fingerings the planner considers: all plausible ones of a hand that stands well, fewer of one that does not."""

import numpy as np

from engine.hand.fingering import LOG_ODD, SLACK, Fingerings, Ints, Numbers
from engine.planning.weights import GRAIN, WEIGHTS

THRIFT = 6
"""How often a hand's standing worse than the best counts against its fingerings, so that no time goes into odd ways
of holding what hardly anybody would play (own choice)."""

_MOST = round(max(SLACK) * LOG_ODD * WEIGHTS["grip"].value * GRAIN)
_ROOM = 1 << 24


def kept(ways: Fingerings, hands: Ints, worse: Ints) -> tuple[Numbers, Numbers]:
    """Return where the fingerings that are considered begin and end among `ways`, for hands given by their number.

    `worse`: grains by which each hand stands worse than the best one; its best fingering always stays.
    """
    over = ways.points - ways.points[np.searchsorted(ways.of, ways.of)]
    grains = np.rint(over * WEIGHTS["grip"].value * GRAIN).astype(np.int64)
    begin, end = (np.searchsorted(ways.of, hands, side=side) for side in ("left", "right"))
    allowed = np.maximum(0, _MOST - THRIFT * np.minimum(worse, _MOST))
    # The fingerings of a hand stand together, the best first: one search in numbers that ascend finds them all.
    within = np.searchsorted(ways.of * _ROOM + grains, hands.astype(np.int64) * _ROOM + allowed, side="right")
    return begin, np.minimum(end, np.maximum(within, begin + 1))


def standing_worse(groups: Ints, hands: Numbers, costs: Ints) -> Ints:
    """Return by how much the best voicing of each hand costs more than the best of the hand's group.

    One row a voicing: its group (the chord and texture), its hand (0 and up, all of one group) and its cost.
    """
    best = np.full(int(groups.max()) + 1, np.iinfo(np.int32).max)
    np.minimum.at(best, groups, costs)
    worse = np.full(int(hands.max()) + 1, np.iinfo(np.int32).max)
    np.minimum.at(worse, hands, costs - best[groups])
    return worse.astype(np.int32)
