from itertools import pairwise

import pytest

from engine.planning.explain import TERMS, explained, motion
from engine.planning.weights import WEIGHTS


def test_every_term_of_the_effort_has_words():
    assert TERMS.keys() == WEIGHTS.keys()


def test_a_shift_is_explained_by_moves_distances_and_terms(planned):
    one, two, _ = planned("Em7 A7 Dmaj7", method="shell").steps
    text = "\n".join(explained(one, two))
    assert "slides down a half step onto C#4" in text
    assert "the least possible is 1" in text
    assert "effort" in text


@pytest.mark.parametrize("method", ["shell", "triad", "close", "auto"])
def test_no_hand_moves_less_than_the_smallest_voice_leading(planned, method):
    # Tymoczko 2006: the taxicab size between the two sets is the least that any hand can move.
    for one, two in pairwise(planned("Dm7 G7 Cmaj7 A7b9 F#m7b5 B7 Em7", method=method).steps):
        moved, least = motion(one, two)
        assert moved >= least


def test_the_first_step_has_no_motion_to_tell(planned):
    first = planned("Em7 A7", method="shell").steps[0]
    assert not any("least possible" in line for line in explained(None, first))
