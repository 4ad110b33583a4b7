from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.hand.finger_choice import WEIGHTS, against, fitted

chords = st.sets(st.integers(48, 72), min_size=2, max_size=5).map(lambda keys: tuple(sorted(keys)))


def odds(keys, *sets, weights=None):
    chosen = np.array(sets or list(combinations(range(1, 6), len(keys))), dtype=np.int32)
    return against(np.array([keys], dtype=np.int32), chosen, 200.0, weights or fitted())[0]


def test_every_weight_says_how_sure_it_is_and_rules_of_hardship_count_against():
    assert all(weight.error > 0 for weight in WEIGHTS.values())
    kept = {name for name, weight in WEIGHTS.items() if weight.value < 0}
    assert kept == {"fifth outside three keys"}, (
        "only the little finger on the outer note of a chord is for a fingering"
    )


def test_a_triad_in_the_five_finger_position_costs_its_fingers_alone():
    # C-E-G under 1-3-5: no finger is away from its white key, none on black.
    value = {name: weight.value for name, weight in WEIGHTS.items()}
    alone = value["thumb"] + value["fifth"] + value["fifth outside three keys"]
    assert odds((60, 64, 67), (1, 3, 5)).tolist() == pytest.approx([alone])


def test_a_seventh_from_thumb_to_little_finger_is_two_white_keys_wider_than_the_hand_lies():
    # C-B is six white keys, the hand lies over four: four halves too many.
    value = {name: weight.value for name, weight in WEIGHTS.items()}
    assert odds((60, 71), (1, 5)).tolist() == pytest.approx([value["thumb"] + value["fifth"] + 4 * value["thumb away"]])


@given(chords)
def test_the_odds_are_the_sum_of_the_rules_each_times_its_weight(keys):
    units = np.eye(len(WEIGHTS))
    rules = np.stack([odds(keys, weights=tuple(unit)) for unit in units.tolist()])
    assert odds(keys).tolist() == pytest.approx((np.array(fitted()) @ rules).tolist())


@pytest.mark.parametrize(
    ("keys", "fingers"),
    [
        ((67, 72, 76), (1, 3, 5)), ((64, 67, 72), (1, 2, 5)), ((65, 69, 72), (1, 3, 5)), ((60, 65, 69), (1, 3, 5)),
        ((62, 65, 67, 71), (1, 2, 3, 5)), ((68, 71, 74, 76), (1, 2, 4, 5)), ((69, 77), (1, 5)),
    ],
)  # fmt: skip
def test_everyday_chords_take_the_fingers_that_editions_print_for_such_chords(keys, fingers):
    # Common practice; the printed chords themselves are weighed in tests/outside.
    sets = list(combinations(range(1, 6), len(keys)))
    assert sets[int(odds(keys).argmin())] == fingers
