import pytest

from engine.hand.grip import Grip, finger_places


def test_a_free_finger_rests_a_white_key_from_its_neighbour():
    places = finger_places(Grip((60, 64, 67), (1, 3, 5)), "right")
    assert places[1] == pytest.approx((places[0] + places[2]) / 2, abs=1.0)
