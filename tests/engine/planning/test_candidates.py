"""Which voicings the planner considers, against the same rule followed voicing by voicing, as one would at a piano."""

from collections.abc import Sequence

import numpy as np
import pytest

from engine.chord.model import Chord
from engine.chord.symbol import read_symbol
from engine.hand.fingering import fingerings
from engine.hand.grip import LEFT, RIGHT
from engine.method_names import AUTO
from engine.planning.candidates import MOST_ALONE, MOST_EACH, STANDING_SLACK, considered
from engine.planning.lineup import setting, zones
from engine.planning.model import Request
from engine.planning.voicing_costs import Ask, Standing, standing
from engine.voicing.methods import chosen

Hands = tuple[set[int], set[int]]
"""Numbers of left and right hands."""

CHORDS = tuple(read_symbol(symbol) for symbol in ("Dm9", "G13", "Cmaj7/E", "F#m7b5", "C"))


def choices(chords: Sequence[Chord], method: str, **wishes: object) -> tuple[Standing, list[int], Hands]:
    """Return the voicings as they stand, which of them are considered, and the hands that can be held."""
    request = Request(**wishes)  # type: ignore[arg-type]
    ask = Ask(setting(request), chosen(method), request.reach, zones(request))
    found = standing(chords, ask)
    ways = fingerings(found.lefts, LEFT, ask.reach[0]), fingerings(found.rights, RIGHT, ask.reach[1])
    return found, considered(found, ways, ask).tolist(), (set(ways[0].of.tolist()), set(ways[1].of.tolist()))


def followed(found: Standing, able: Hands, most: tuple[int, int]) -> list[int]:
    """Return what the rule chooses, walked through by hand."""
    costs = found.costs.tolist()
    hands = list(zip(found.left.tolist(), found.right.tolist(), strict=True))
    sources = list(zip(found.chords.tolist(), found.methods.tolist(), strict=True))
    kept: dict[tuple[int, int], int] = {}
    for source in sorted(set(sources)):
        playable = [one for one, of in enumerate(sources) if of == source and among(hands[one], able)]
        playable.sort(key=lambda one: (costs[one], hands[one]))
        taken: Hands = (set(), set())
        for one in playable:
            room = all(
                hand in side or len(side) < most[n]
                for n, (hand, side) in enumerate(zip(hands[one], taken, strict=True))
            )
            if room and costs[one] <= costs[playable[0]] + STANDING_SLACK:
                taken[0].add(hands[one][0])
                taken[1].add(hands[one][1])
        for one in playable:
            if among(hands[one], taken):
                kept.setdefault(hands[one], one)
    return list(kept.values())


def among(pair: tuple[int, int], hands: Hands) -> bool:
    return pair[0] in hands[0] and pair[1] in hands[1]


@pytest.mark.parametrize("wishes", [{}, {"bass": True}, {"reach": (165.0, 190.0)}, {"colour": True}, {"hands": "left"}])
def test_of_every_method_the_hands_that_stand_best_are_choices(wishes: dict[str, object]) -> None:
    found, kept, able = choices(CHORDS, AUTO, **wishes)
    assert kept == followed(found, able, MOST_EACH)


@pytest.mark.parametrize("method", ["spread", "rootless", "drop2"])
def test_a_method_asked_for_alone_has_more_of_its_hands_considered(method: str) -> None:
    found, kept, able = choices(CHORDS, method)
    assert kept == followed(found, able, MOST_ALONE)
    assert len(kept) >= len(followed(found, able, MOST_EACH))


def test_no_voicing_is_considered_twice_though_two_methods_offer_it() -> None:
    found, kept, _ = choices(CHORDS, AUTO)
    hands = [(found.left[one], found.right[one]) for one in kept]
    assert len(set(hands)) == len(hands)


def test_chords_looked_at_together_have_the_choices_that_each_has_alone() -> None:
    found, kept, _ = choices(CHORDS, AUTO)
    for number, chord in enumerate(CHORDS):
        alone, its, _ = choices([chord], AUTO)
        together = [one for one in kept if found.chords[one] == number]
        assert [found.terms[one].tolist() for one in together] == [alone.terms[one].tolist() for one in its]


def test_hands_out_of_reach_are_no_choice() -> None:
    chord = [read_symbol("Cmaj7")]
    _, _, wide = choices(chord, AUTO, reach=(230.0, 230.0))
    found, kept, able = choices(chord, AUTO, reach=(150.0, 150.0))
    assert able[1] < wide[1]
    assert all(among((found.left[one], found.right[one]), able) for one in kept)
    assert choices(chord, "close", reach=(20.0, 20.0))[1] == []


def test_what_is_chosen_comes_chord_by_chord_and_method_by_method_the_best_first() -> None:
    found, kept, _ = choices(CHORDS, AUTO)
    rows = list(zip(found.chords[kept], found.methods[kept], found.costs[kept], strict=True))
    assert rows == sorted(rows)
    assert np.unique(found.chords[kept]).tolist() == list(range(len(CHORDS)))
