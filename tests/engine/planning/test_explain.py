from itertools import pairwise

import pytest

from engine.planning.explain import SHIFT, TERMS, explained, hardest, motion
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


def test_the_last_line_says_how_far_a_hand_goes_and_which_shift_is_the_hardest(planned):
    steps = planned("C C/E F C", method="triad", hands="left").steps
    (place, *_) = hard = sorted(hardest(steps))
    last = [explained(one, two, number in hard)[-1] for number, (one, two) in enumerate(pairwise(steps), 1)]
    assert last[place - 1].startswith("the left hand ")
    assert [line.endswith(": hardest of this section") for line in last] == [number in hard for number in (1, 2, 3)]


def test_hands_that_stay_are_said_to_and_no_shift_is_hardest_where_all_are_alike(planned):
    steps = planned("Cmaj7 Cmaj7 Cmaj7", method="shell").steps
    assert hardest(steps) == set()
    assert explained(steps[0], steps[1])[-1] == "the hands stay where they are"


def test_the_hardest_shift_is_told_by_what_the_hands_do_not_by_how_a_chord_sounds(planned):
    steps = planned("Dm7 G7 Cmaj7 A7b9 F#m7b5 B7 Em7").steps
    ways = [sum(amount for name, amount in step.terms if name in SHIFT) for step in steps[1:]]
    assert hardest(steps) == {1 + place for place, way in enumerate(ways) if way == max(ways)}
