"""The states of a chord: what each hand may do there."""

from engine.chord.symbol import read_symbol
from engine.method_names import AUTO
from engine.planning.lineup import setting, zones
from engine.planning.model import Request
from engine.planning.states import completing
from engine.planning.voicing_costs import Ask
from engine.voicing.methods import chosen


def test_a_pin_leaves_out_the_methods_whose_other_hand_is_out_of_reach():
    # Under C4 E4 G4 one method has a left hand that reaches wider than 200 mm.
    request = Request(reach=(200.0, 200.0))
    ask = Ask(setting(request, False), chosen(AUTO), request.reach, zones(request))
    found = completing(read_symbol("Am7"), ask, None, (60, 64, 67), ((), ()))
    assert found.blocks
    assert all(hand.stop > hand.start for pair in found.blocks for hand in pair)
