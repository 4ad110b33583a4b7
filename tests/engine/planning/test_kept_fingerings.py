import numpy as np

from engine.hand.fingering import FREE, fingerings
from engine.planning.kept_fingerings import kept, standing_worse

HANDS = np.array([[60, 64, 67, FREE, FREE], [60, 69, FREE, FREE, FREE]], dtype=np.int32)
WAYS = fingerings(HANDS, "right", 200.0)


def count(hand, worse):
    begin, end = kept(WAYS, np.array([hand], dtype=np.int32), np.array([worse], dtype=np.int32))
    assert (WAYS.of[int(begin[0]) : int(end[0])] == hand).all()
    return int(end[0] - begin[0])


def test_of_the_hand_that_stands_best_every_plausible_fingering_is_considered():
    assert [count(hand, 0) for hand in (0, 1)] == [int((WAYS.of == hand).sum()) for hand in (0, 1)]


def test_the_worse_a_hand_stands_the_fewer_and_the_best_one_always():
    counts = [count(0, worse) for worse in (0, 500, 1000, 2000, 10**8)]
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] == 1


def test_a_hand_stands_as_well_as_the_best_voicing_that_has_it():
    # Two groups: hands 0 and 1 of the first, 2 of the second.
    found = standing_worse(np.array([0, 0, 0, 1]), np.array([0, 1, 1, 2]), np.array([5, 9, 7, 30], dtype=np.int32))
    assert found.tolist() == [0, 2, 0]
