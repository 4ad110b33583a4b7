"""Which voicings the planner considers, against the same rule followed voicing by voicing, as one would at a piano."""

from collections.abc import Sequence

import numpy as np
import pytest

from engine.chord.model import Chord
from engine.chord.symbol import read_symbol
from engine.hand.fingering import fingerings
from engine.hand.grip import LEFT, RIGHT
from engine.method_names import AUTO
from engine.planning.candidates import MOST, STANDING_SLACK, considered
from engine.planning.model import Request
from engine.planning.voicing_costs import Standing, standing
from engine.voicing.textures import textures
from tests.engine.planning.asking import ask_of

Hands = tuple[set[int], set[int]]
"""Numbers of left and right hands."""

CHORDS = tuple(read_symbol(symbol) for symbol in ("Dm9", "G13", "Cmaj7/E", "F#m7b5", "C"))


def choices(chords: Sequence[Chord], method: str, **wishes: object) -> tuple[Standing, list[int], Hands]:
    """Return the voicings as they stand, which of them are considered, and the hands that can be held."""
    request = Request(**wishes)  # type: ignore[arg-type]
    ask = ask_of(request, method)
    found = standing(chords, ask)
    ways = fingerings(found.lefts, LEFT, ask.reach[0]), fingerings(found.rights, RIGHT, ask.reach[1])
    return found, considered(found, ways, ask).tolist(), (set(ways[0].of.tolist()), set(ways[1].of.tolist()))


def followed(found: Standing, able: Hands, most: tuple[int, int]) -> list[int]:
    """Return what the rule chooses, walked through by hand."""
    costs = found.costs.tolist()
    hands = list(zip(found.left.tolist(), found.right.tolist(), strict=True))
    sources = list(zip(found.chords.tolist(), found.textures.tolist(), strict=True))
    kept: list[int] = []
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
        kept += [one for one in playable if among(hands[one], taken)]
    return kept


def among(pair: tuple[int, int], hands: Hands) -> bool:
    return pair[0] in hands[0] and pair[1] in hands[1]


@pytest.mark.parametrize("wishes", [{}, {"bass": True}, {"reach": (165.0, 190.0)}, {"colour": True}, {"hands": "left"}])
def test_of_every_texture_the_hands_that_stand_best_are_choices(wishes: dict[str, object]) -> None:
    found, kept, able = choices(CHORDS, AUTO, **wishes)
    assert kept == followed(found, able, MOST)


@pytest.mark.parametrize("method", ["spread", "rootless", "drop2"])
def test_a_method_asked_for_alone_has_the_choices_that_it_has_among_all(method: str) -> None:
    alone, kept, able = choices(CHORDS, method)
    assert kept == followed(alone, able, MOST)
    among_all, chosen, _ = choices(CHORDS, AUTO)
    own = {number for number, texture in enumerate(textures(AUTO, AUTO)) if texture.method == method}
    here = [(alone.chords[one], *alone.terms[one].tolist()) for one in kept]
    there = [one for one in chosen if among_all.textures[one] in own]
    assert here == [(among_all.chords[one], *among_all.terms[one].tolist()) for one in there]


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


def test_what_is_chosen_comes_chord_by_chord_and_texture_by_texture_the_best_first() -> None:
    found, kept, _ = choices(CHORDS, AUTO)
    rows = list(zip(found.chords[kept], found.textures[kept], found.costs[kept], strict=True))
    assert rows == sorted(rows)
    assert np.unique(found.chords[kept]).tolist() == list(range(len(CHORDS)))
