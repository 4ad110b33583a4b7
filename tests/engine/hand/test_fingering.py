from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.hand.fingering import FREE, LOG_ODD, ROLL, ROLLED, SLACK, fingerings, insisted, with_rolls
from engine.hand.grip import Grip
from engine.hand.keyboard import span

chords = st.sets(st.integers(40, 80), min_size=1, max_size=5).map(lambda keys: tuple(sorted(keys)))


def row(keys):
    return np.array([(*keys, *(FREE,) * (5 - len(keys)))], dtype=np.int32)


def told(found):
    """Return fingerings as grips with their points."""
    return [
        (
            Grip(*zip(*sorted((int(key), finger) for finger, key in enumerate(under, 1) if key != FREE), strict=True)),
            points,
        )
        for under, points in zip(found.under, found.points.tolist(), strict=True)
    ]


def grips(keys, hand, reach):
    return told(fingerings(row(keys), hand, reach))


def fingered(keys, fingers, hand, reach):
    return told(insisted(row(keys), fingers, hand, reach))


def best(keys, hand, reach=200.0):
    return grips(keys, hand, reach)[0][0].fingers


@pytest.mark.parametrize(
    ("keys", "hand", "fingers"),
    [
        ((60, 64, 67), "right", (1, 3, 5)),
        ((64, 67, 72), "right", (1, 2, 5)),
        ((48, 52, 55), "left", (5, 3, 1)),
        ((52, 55, 60), "left", (5, 3, 1)),
        ((60, 64, 67, 72), "right", (1, 2, 3, 5)),
        ((48, 60), "left", (5, 1)),
    ],
)
def test_triads_and_octaves_lie_as_they_are_taught(keys, hand, fingers):
    # Common practice: 1-3-5 and 1-2-5 right, 5-3-1 left, octaves with the outer fingers.
    assert fingers in [grip.fingers for grip, _ in grips(keys, hand, 200.0)]


@given(keys=chords, hand=st.sampled_from(["left", "right"]), reach=st.floats(165, 240))
def test_no_grip_is_wider_than_the_reach(keys, hand, reach):
    for grip, _ in grips(keys, hand, reach):
        assert span(grip.keys[0], grip.keys[-1]) <= reach


@given(keys=chords, hand=st.sampled_from(["left", "right"]))
def test_fingers_never_cross_inside_a_chord(keys, hand):
    for grip, _ in grips(keys, hand, 200.0):
        order = grip.fingers if hand == "right" else grip.fingers[::-1]
        assert all(low < high for low, high in pairwise(order))


@given(keys=chords)
def test_the_left_hand_is_the_mirror_of_the_right(keys):
    # Round D4 (62) and G#4/Ab4 the keyboard is its own mirror image.
    mirrored = tuple(sorted(124 - key for key in keys))
    right = [round(points, 6) for _, points in grips(keys, "right", 200.0)[:1]]
    left = [round(points, 6) for _, points in grips(mirrored, "left", 200.0)[:1]]
    assert right == left


def test_the_same_tenth_fits_from_c_and_not_from_d_flat():
    assert grips((48, 64), "left", 215.0)
    assert not grips((49, 65), "left", 215.0)


def test_a_thumb_on_black_among_white_keys_is_less_easy():
    assert fingered((61, 65), (1, 3), "right", 200.0)[0][1] > fingered((60, 64), (1, 3), "right", 200.0)[0][1]


@given(keys=chords, hand=st.sampled_from(["left", "right"]), reach=st.floats(165, 240))
def test_every_fingering_that_is_offered_may_be_asked_for(keys, hand, reach):
    for grip, points in grips(keys, hand, reach):
        ((same, again),) = fingered(keys, grip.fingers, hand, reach)
        assert same == grip
        assert again == pytest.approx(points)


@given(keys=chords, hand=st.sampled_from(["left", "right"]), up=st.sampled_from([-12, 12]))
def test_an_octave_away_the_same_fingers_take_the_same_chord(keys, hand, up):
    if len(keys) > 1:  # a lone key is another matter, see lone_keys
        here, there = (grips(tuple(key + far for key in keys), hand, 200.0) for far in (0, up))
        assert [(grip.fingers, points) for grip, points in here] == [(grip.fingers, points) for grip, points in there]


@pytest.mark.parametrize(
    ("keys", "fingers"),
    [
        ((60, 64, 67), (1, 3, 5)), ((64, 67, 72), (1, 2, 5)), ((67, 72, 76), (1, 3, 5)),
        ((60, 64, 67, 72), (1, 2, 3, 5)), ((55, 59, 62, 65), (1, 2, 3, 5)), ((59, 62, 65, 67), (1, 2, 4, 5)),
        ((60, 72), (1, 5)), ((61, 73), (1, 5)),
    ],
)  # fmt: skip
def test_the_right_hand_takes_white_chords_as_handbooks_have_them(keys, fingers):
    # Common practice of handbooks (from memory): triads 1-3-5, 1-2-5, 1-3-5, dominant sevenths 1-2-3-5 and 1-2-4-5.
    assert best(keys, "right") == fingers


@pytest.mark.parametrize(
    ("keys", "fingers"),
    [
        ((48, 52, 55), (5, 3, 1)),
        ((52, 55, 60), (5, 3, 1)),
        ((43, 48, 52), (5, 2, 1)),
        ((48, 60), (5, 1)),
        ((48, 55), (5, 1)),
    ],
)
def test_the_left_hand_takes_white_chords_as_handbooks_have_them(keys, fingers):
    # Common practice of handbooks (from memory).
    assert best(keys, "left") == fingers


@pytest.mark.parametrize("chord", [(63, 67, 70), (68, 72, 75), (70, 74), (61, 64), (66, 69)])
def test_a_black_key_below_white_ones_is_not_the_thumbs_while_another_finger_reaches(chord):
    # Common practice: the short thumb keeps off black keys beside white ones.
    assert best(chord, "right")[0] != 1


@given(keys=chords, hand=st.sampled_from(["left", "right"]), reach=st.sampled_from([140.0, 170.0, 200.0, 227.0]))
def test_every_set_of_fingers_that_reaches_is_kept_unless_it_is_much_less_likely(keys, hand, reach):
    every = [
        found for fingers in combinations(range(1, 6), len(keys)) for found in fingered(keys, fingers, hand, reach)
    ]
    every += [
        found for fingers in combinations(range(5, 0, -1), len(keys)) for found in fingered(keys, fingers, hand, reach)
    ]
    asked = {grip.fingers: points for grip, points in every}
    found = grips(keys, hand, reach)
    assert [points for _, points in found] == sorted(points for _, points in found)
    slack = SLACK[len(keys)] * LOG_ODD
    assert {grip.fingers for grip, _ in found} == {
        fingers for fingers, points in asked.items() if points <= min(asked.values()) + slack
    }


@pytest.mark.parametrize("fingers", [(1, 1, 5), (5, 3, 1), (1, 3), (), (1, 2, 5, 5)])
def test_fingers_that_cross_or_do_not_count_up_are_no_fingering(fingers):
    assert fingered((60, 64, 67), fingers, "right", 200.0) == []


def test_the_fingers_of_a_left_hand_count_down():
    assert fingered((48, 52, 55), (5, 3, 1), "left", 200.0) != []
    for fingers in ((5, 1, 3), (1, 3, 5)):
        assert fingered((48, 52, 55), fingers, "left", 200.0) == []


def test_no_hands_have_no_fingerings():
    found = fingerings(np.empty((0, 5), dtype=np.int32), "right", 200.0)
    assert (found.under.shape, len(found.points), len(found.of)) == ((0, 5), 0, 0)


def test_a_fingering_that_lies_badly_may_be_asked_for_while_the_hand_reaches_it():
    assert (1, 5) not in [grip.fingers for grip, _ in grips((60, 62), "right", 200.0)]
    assert fingered((60, 62), (1, 5), "right", 200.0) != []
    assert fingered((60, 76), (1, 5), "right", 200.0) == []


def test_only_a_chord_wider_than_the_reach_is_rolled_and_that_costs_as_much_as_the_widest_stretch():
    # C3 to E4 are 211.5 mm, C3 to D4 188 mm; what lies inside the reach is weighed at it, rolls or not.
    hands = np.concatenate([row((48, 64)), row((48, 62))])
    found = with_rolls(hands, 200.0, lambda some, reach: fingerings(some, "left", reach))
    wide, near = fingerings(hands[:1], "left", 200.0 + ROLL), fingerings(hands[1:], "left", 200.0)
    assert found.points.tolist() == [*(wide.points + ROLLED).tolist(), *near.points.tolist()]
    assert found.of.tolist() == [0] * len(wide.of) + [1] * len(near.of)
