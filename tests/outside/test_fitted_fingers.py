"""The model of printed fingerings against the printed editions it was fitted on, piece by piece."""

import numpy as np
import pytest

from engine.hand.finger_choice import WEIGHTS, fitted
from tests.bench.conditional_logit import errors, fit, gathered
from tests.bench.fit_fingers import RIDGE, SOURCE, choices, first_and_kept, printed


@pytest.fixture(scope="module")
def asked():
    if not SOURCE.exists():
        pytest.skip(f"the printed fingerings {SOURCE.name} are not beside this checkout")
    return choices(printed())


def test_two_offers_are_chosen_by_the_logarithm_of_how_often():
    # McFadden 1974: with one cost that only the second offer has, the odds are as often as each was taken.
    asked = gathered([np.array([[0.0], [1.0]])] * 40, [0] * 30 + [1] * 10, [1.0] * 40, list("ab") * 20)
    assert fit(asked, 1e-9)[0] == pytest.approx(np.log(3), abs=1e-3)


def test_the_weights_are_those_that_the_editions_give(asked):
    weights = fit(asked, RIDGE)
    assert list(fitted()) == pytest.approx(weights.tolist(), abs=0.011)
    told = [weight.error for weight in WEIGHTS.values()]
    assert told == pytest.approx(errors(asked, weights, RIDGE).tolist(), abs=0.011)


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_on_pieces_it_has_not_seen_the_first_choice_is_the_printed_one_in_two_of_three_chords(asked, seed):
    first, kept = first_and_kept(asked, seed)
    large = asked.counts > 1
    assert first[large].mean() >= 0.65
    assert first[~large].mean() >= 0.33
    assert kept[large].mean() >= 0.98
    assert kept[~large].mean() >= 0.98
