from dataclasses import replace

import pytest

from engine.planning.alternatives import alternatives
from engine.planning.lineup import request_for
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.song.model import Pin, SetList
from engine.song.reader import read_song, song_from_chart
from engine.song.unfolding import unfold

STEPS = unfold(song_from_chart("| Dm7 | G7 | Cmaj7 | A7 |"))
AGAIN = unfold(song_from_chart("||: Dm7 | G7 | Cmaj7 | A7 :||"))
REQUEST = Request(method="shell")
SONGS = pytest.mark.parametrize("steps", [STEPS, AGAIN], ids=["once through", "the same fingering twice"])


@SONGS
def test_the_plans_own_voicing_costs_nothing_and_the_others_something(steps):
    offered = alternatives(steps, REQUEST, 1)
    own = plan(steps, REQUEST).steps[1]
    assert offered[0].price == 0.0
    assert offered[0].left + offered[0].right == own.keys
    assert [one.price for one in offered] == sorted(one.price for one in offered)


@SONGS
@pytest.mark.parametrize("number", [1, 3, 6])
def test_pinning_an_alternative_costs_the_song_what_was_said(number, steps):
    chosen = alternatives(steps, REQUEST, 1)[number]
    step = steps[1]
    pin = Pin(step.section, step.bar, step.beat, chosen.left, chosen.right, chosen.left_fingers, chosen.right_fingers)
    pinned = plan(steps, replace(REQUEST, pins=(pin,)))
    assert pinned.steps[1].keys == chosen.left + chosen.right
    assert pinned.pins_cost == pytest.approx(chosen.price, abs=1e-9)
    assert pinned.effort == pytest.approx(plan(steps, REQUEST).effort + chosen.price, abs=1e-9)


OWN_TUNE = """
title = "Slack Water"
key = "C"
meter = "4/4"
tempo = 100
tune_is = "mine"
[sections.Verse]
bars = "| Dm7 | G7 | Cmaj7 | A7 |"
tune = "D2 A2 F4 | G2 F2 D4 | E8 | E4 c4 |"
"""


@pytest.mark.parametrize("index", [0, 1])
def test_a_voicing_of_another_texture_may_make_the_song_easier_and_then_says_so(index):
    song = read_song(OWN_TUNE, "")
    steps, request = unfold(song), request_for(song, SetList("Harbour", ()), (190.0, 190.0), bass=True)
    own, *others = alternatives(steps, request, index)
    step, planned = steps[index], plan(steps, request)
    assert own.price == 0.0
    assert own.left + own.right == planned.steps[index].keys
    for one in others[:3]:
        pin = Pin(step.section, step.bar, step.beat, one.left, one.right, one.left_fingers, one.right_fingers)
        effort = plan(steps, replace(request, pins=(pin,))).effort
        assert effort == pytest.approx(planned.effort + one.price, abs=1e-9)
    assert others[0].price < 0.0


def test_a_rest_has_no_alternatives():
    assert alternatives(unfold(song_from_chart("| Dm7 | N.C. |")), REQUEST, 1) == ()
