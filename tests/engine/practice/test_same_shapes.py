"""Identities of the trade: the same keys under another name ask for no finger at all."""

import pytest

from engine.planning.model import Request
from engine.planning.planner import plan
from engine.practice.same_shapes import already_held, holding, shape_words
from engine.song.model import Pin
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from tests.engine.practice.by_hand import plan_of

SHELL = "1:59 3:65"


def test_a_chord_under_another_name_is_said_to_be_held() -> None:
    before, after = plan_of([("C6", 4, "", "1:60 2:64 5:69"), ("Am7", 4, "", "1:60 2:64 5:69")]).steps
    assert already_held(before, after)
    assert shape_words(before, after) == "same shape, other name: you already hold Am7"


def test_a_tritone_substitute_leaves_the_right_hand_where_it_is() -> None:
    before, after = plan_of([("G7", 4, "5:43", SHELL), ("Db7", 4, "5:37", SHELL)]).steps
    assert holding(before, after) == (False, True)
    assert shape_words(before, after) == "the right hand already holds its part of Db7"


def test_other_fingers_are_another_shape() -> None:
    before, after = plan_of([("G7", 4, "5:43", SHELL), ("Db7", 4, "5:43", "2:59 3:65")]).steps
    assert holding(before, after) == (True, False)


def test_a_finger_to_lift_is_something_to_do() -> None:
    before, after = plan_of([("G7", 4, "", "1:59 3:65 5:69"), ("G13", 4, "", SHELL)]).steps
    assert not already_held(before, after)
    assert shape_words(before, after) == ""


def test_the_same_chord_again_needs_no_words() -> None:
    before, after = plan_of([("G7", 4, "5:43", SHELL), ("G7", 4, "5:43", SHELL)]).steps
    assert already_held(before, after)
    assert shape_words(before, after) == ""


def test_rests_hold_nothing() -> None:
    before, after = plan_of([("N.C.", 4, "", ""), ("-", 4, "", "")]).steps
    assert not already_held(before, after)
    assert shape_words(None, after) == ""
    assert shape_words(before, None) == ""


@pytest.mark.parametrize(
    ("chart", "keys"),
    [
        ("| G13 | Db7alt |", (53, 57, 59, 64)),  # F A B E: rootless G13 = rootless Db7(#5#9)
        ("| C6 | Am7 |", (55, 57, 60, 64)),
        ("| Bm7b5 | Dm6 |", (53, 57, 59, 62)),
        ("| Dm7 | G9sus4 |", (57, 60, 62, 65)),
    ],
)  # fmt: skip
def test_the_planner_finds_known_identities_as_held(chart: str, keys: tuple[int, ...]) -> None:
    steps = unfold(song_from_chart(chart))
    pins = tuple(Pin(step.section, step.bar, step.beat, keys, ()) for step in steps)
    before, after = plan(steps, Request(bass=True, pins=pins)).steps
    assert shape_words(before, after).startswith("same shape")
