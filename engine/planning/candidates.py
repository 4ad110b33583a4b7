"""Which of all the voicings of a chord the planner considers: the ones that stand best."""

import numpy as np

from engine.hand.fingering import Fingerings, Ints, Numbers, spans
from engine.planning.voicing_costs import Ask, Standing

STANDING_SLACK = 9000
"""Grains by which a voicing may stand worse than its texture's best and still be a choice (own choice)."""

MOST = (10, 16)
"""Left and right hands of one texture at one chord that are considered, with every voicing they make: the ones that
stand best (own choice)."""


def considered(found: Standing, ways: tuple[Fingerings, Fingerings], ask: Ask) -> Numbers:
    """Return the numbers of the voicings that are choices: chord by chord, texture by texture, the best first.

    A texture's voicings are taken from the best on while its hands are not more than so many and they do not stand
    much worse; then all voicings that those hands make count.
    """
    able = [_able(hands, way) for hands, way in zip((found.lefts, found.rights), ways, strict=True)]
    source = found.chords * len(ask.textures) + found.textures
    order = np.lexsort((found.right, found.left, found.costs, source))
    order = order[able[0][found.left[order]] & able[1][found.right[order]]]
    if ask.tenths and not ask.roll:
        rolls = np.array([texture.method == "spread" for texture in ask.textures])
        order = order[rolls[found.textures[order]] | (spans(found.lefts) <= ask.reach[0])[found.left[order]]]
    lefts, rights = _taken(source[order], found.left[order], found.right[order], found.costs[order], MOST)
    # A hand belongs to one chord, so texture and hand say where it is taken.
    taken = [np.zeros((len(ask.textures), len(hands)), dtype=bool) for hands in (found.lefts, found.rights)]
    textures = found.textures[order]
    taken[0][textures[lefts], found.left[order][lefts]] = True
    taken[1][textures[rights], found.right[order][rights]] = True
    kept: Numbers = order[taken[0][textures, found.left[order]] & taken[1][textures, found.right[order]]]
    return kept


def _able(hands: Ints, ways: Fingerings) -> Ints:
    able = np.zeros(len(hands), dtype=bool)
    able[ways.of] = True
    return able


def _taken(source: Ints, left: Ints, right: Ints, costs: Ints, most: tuple[int, int]) -> tuple[list[int], list[int]]:
    """Return the voicings with which a left and a right hand are first taken; `source` is chord and texture, in
    order, the best first."""
    lefts: list[int] = []
    rights: list[int] = []
    last, limit = -1, 0
    below: set[int] = set()
    above: set[int] = set()
    rows = zip(source.tolist(), left.tolist(), right.tolist(), costs.tolist(), strict=True)
    for number, (now, one, two, cost) in enumerate(rows):
        if now != last:
            last, limit, below, above = now, cost + STANDING_SLACK, set(), set()
        if cost > limit:
            continue
        new = one not in below, two not in above
        if (new[0] and len(below) == most[0]) or (new[1] and len(above) == most[1]):
            continue
        if new[0]:
            below.add(one)
            lefts.append(number)
        if new[1]:
            above.add(two)
            rights.append(number)
    return lefts, rights
