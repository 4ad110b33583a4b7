"""The states of a chord: what each hand may do there."""

from engine.chord.symbol import read_symbol
from engine.planning.cheapest import CEILING
from engine.planning.model import Request
from engine.planning.states import completing, every, states_of
from tests.engine.planning.asking import ask_of


def test_a_pin_leaves_out_the_methods_whose_other_hand_is_out_of_reach():
    # Under C4 E4 G4 one method has a left hand that reaches wider than 200 mm.
    found = completing(read_symbol("Am7"), ask_of(Request(reach=(200.0, 200.0))), None, (60, 64, 67), ((), ()))
    assert found is not None
    assert int(found.node.min()) < CEILING


def test_all_textures_together_have_the_voicings_that_each_has():
    ask, chord = ask_of(Request()), read_symbol("Dm7")
    together = every(chord, ask)
    hands = {(together.left.grip(one).keys, together.right.grip(two).keys) for one, two in _pairs(together)}
    textures = [found for found in states_of([chord], ask)[chord] if found]
    assert textures
    for found in textures:
        assert {(found.left.grip(one).keys, found.right.grip(two).keys) for one, two in _pairs(found)} <= hands


def _pairs(found):
    return [
        (one, two)
        for one in range(len(found.left))
        for two in range(len(found.right))
        if found.node[one, two] < CEILING
    ]
