from fractions import Fraction

import pytest

from engine.errors import ChartError
from engine.performance.rhythm_file import read_rhythms
from engine.performance.rhythms import Stroke, rhythm_named

PIER = """
["Pier Walk"]
left  = [[1, 4]]
right = [[1, 1.5], [2.5, 0.5, "accent"], [5, "2/3", "soft"]]
"""


def test_a_players_rhythm_counts_beats_from_one_and_goes_on_past_the_bar():
    (pier,) = read_rhythms(PIER, "rhythms.toml")
    first, second = pier.bars
    assert first.right == (Stroke(Fraction(0), Fraction(3, 2)), Stroke(Fraction(3, 2), Fraction(1, 2), 1))
    assert second.right == (Stroke(Fraction(0), Fraction(2, 3), -1),)
    assert first.left == (Stroke(Fraction(0), Fraction(4)),)


def test_a_hand_that_is_left_out_plays_what_the_other_plays():
    (rhythm,) = read_rhythms("[a]\nright = [[2, 1]]", "x")
    assert rhythm.bars[0].left == rhythm.bars[0].right


def test_a_players_own_rhythm_goes_before_ours():
    own = read_rhythms("[bossa]\nright = [[2, 1]]", "x")
    assert rhythm_named("bossa", own) is own[0]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("[a]\nright = [[0, 1]]", (2, 10)),
        ("[a]\nright = [[1, 0]]", (2, 10)),
        ('[a]\nright = [[1, 1, "forte"]]', (2, 10)),
        ("[a]\nright = [[1]]", (2, 10)),
        ("[a]\nright = 3", (2, 9)),
        ("[a]\nthirds = true", (1, 1)),
        ("[held]\nright = [[1, 1]]", (1, 1)),
    ],
)
def test_a_slip_is_told_at_its_place(text, place):
    with pytest.raises(ChartError) as caught:
        read_rhythms(text, "rhythms.toml")
    assert (caught.value.faults[0].line, caught.value.faults[0].column) == place
