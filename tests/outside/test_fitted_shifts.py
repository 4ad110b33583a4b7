"""What a shift costs against the changes that professional players made, song by song."""

import pytest

from engine.planning.weights import FITTED
from tests.bench.conditional_logit import errors, fit, folds, unseen
from tests.bench.fit_shifts import FOLDS, RIDGE, SOURCE, TERMS, as_planned, best_and_three, changes, choices


@pytest.fixture(scope="module")
def asked():
    if not SOURCE.exists():
        pytest.skip(f"the players' changes {SOURCE.name} are not beside this checkout")
    return choices(changes())


def test_the_next_chord_of_the_players_is_mostly_the_cheapest_and_hardly_ever_beyond_the_third(asked):
    best, three = best_and_three(as_planned(asked), asked.taken)
    assert best >= 0.58
    assert three >= 0.95


def test_no_tenth_of_the_songs_falls_far_behind(asked):
    costs = as_planned(asked)
    for part in folds(asked.groups, FOLDS, 0):
        best, three = best_and_three(costs[part], asked.taken[part])
        assert best >= 0.45
        assert three >= 0.88


def test_the_fit_is_the_one_that_is_told(asked):
    weights = fit(asked, RIDGE)
    told = [FITTED[term] for term in TERMS]
    assert [value for value, _ in told] == pytest.approx(weights.tolist(), abs=0.005)
    assert [error for _, error in told] == pytest.approx(errors(asked, weights, RIDGE).tolist(), abs=0.005)


@pytest.mark.parametrize("seed", [0, 1])
def test_a_fit_foretells_hardly_more_of_the_songs_it_has_not_seen(asked, seed):
    now = best_and_three(as_planned(asked), asked.taken)
    fitted = best_and_three(unseen(asked, RIDGE, FOLDS, seed), asked.taken)
    assert fitted[0] - now[0] < 0.03
    assert fitted[1] - now[1] < 0.01
