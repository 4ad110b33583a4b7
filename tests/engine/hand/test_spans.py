"""The published span tables, and how they are used inside a chord."""

import pytest

from engine.hand.keyboard import UNIT
from engine.hand.spans import BALLIAUW, PARNCUTT, limits, size


@pytest.mark.parametrize("table", [*BALLIAUW.values(), PARNCUTT])
def test_every_pair_goes_from_practical_to_practical_through_comfort_and_ease(table):
    assert len(table) == 10
    for least, comfort, ease, ease_wide, comfort_wide, most in table.values():
        assert least <= comfort <= ease <= ease_wide <= comfort_wide <= most


def test_thumb_and_little_finger_spans_are_an_octave_a_ninth_and_a_tenth_by_size():
    # Balliauw et al. 2017: 14, 16 and 18 units, 14 to the octave.
    widest = [BALLIAUW[name][1, 5][-1] * UNIT for name in ("small", "medium", "large")]
    assert widest == pytest.approx([164.5, 188.0, 211.5])


def test_parncutt_and_balliauw_agree_on_the_inner_fingers_at_ease():
    # Two published tables, one in semitones and one in half white keys: the same at rest between 2-3, 3-4, 4-5.
    for pair in ((2, 3), (3, 4), (4, 5)):
        assert PARNCUTT[pair][2:4] == BALLIAUW["medium"][pair][2:4]


def test_the_whole_hand_goes_as_far_as_the_player_reaches():
    assert limits(210.0, 1, 5)[-1] == 210.0


def test_inside_a_chord_no_finger_crosses_another():
    assert all(limits(200.0, *pair)[0] >= UNIT for pair in BALLIAUW["medium"])


@pytest.mark.parametrize(("reach", "name"), [(165, "small"), (190, "medium"), (215, "large")])
def test_a_reach_chooses_the_table(reach, name):
    assert size(reach) == name
