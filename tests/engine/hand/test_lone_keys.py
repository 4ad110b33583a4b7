import numpy as np
import pytest

from engine.hand.lone_keys import HIGH, LOW, lone_points

FINGERS = np.array([[1], [2], [3], [4], [5]], dtype=np.int32)


def points(key, hand="left"):
    return lone_points(np.array([[key]], dtype=np.int32), FINGERS, hand)[0].tolist()


@pytest.mark.parametrize("key", range(28, LOW + 1))
def test_a_low_root_alone_is_the_little_fingers(key):
    # Common practice: bass notes are taken with the fifth finger of the left hand.
    found = points(key)
    assert found[4] == 0 == min(found)
    assert min(found[:4]) > 1.5


@pytest.mark.parametrize("key", range(HIGH, 66))
def test_a_high_note_alone_is_the_thumbs(key):
    # Common practice of the left hand: below the middle of the keyboard the little finger, above it the thumb.
    found = points(key)
    assert found[0] == 0 == min(found)


def test_between_low_and_high_the_thumb_takes_over_bit_by_bit():
    rows = [points(key) for key in range(LOW, HIGH + 1)]
    thumbs, fifths = ([row[finger] for row in rows] for finger in (0, 4))
    assert thumbs == sorted(thumbs, reverse=True)
    assert fifths == sorted(fifths)


def test_a_lone_note_of_the_right_hand_is_a_long_fingers_wherever_it_lies():
    # Own choice, as in hand/lone_keys.
    assert points(60, "right") == points(85, "right") == [0.5, 0.0, 0.0, 0.5, 0.5]


def test_a_resting_hand_costs_nothing():
    assert (
        lone_points(np.empty((2, 0), dtype=np.int32), np.empty((1, 0), dtype=np.int32), "left").tolist() == [[0.0]] * 2
    )
