"""Shapes named as players name them (common practice)."""

import pytest

from engine.planning.shape_words import counted, inversion, shape, shape_words


@pytest.mark.parametrize(
    ("keys", "degrees", "name"),
    [
        ((64, 70), "3 b7", "shell"),
        ((58, 64), "b7 3", "shell"),
        ((60, 64, 67), "1 3 5", "triad root position"),
        ((64, 67, 72), "3 5 1", "triad first inversion"),
        ((55, 60, 64), "5 1 3", "triad second inversion"),
        ((60, 64, 67, 71), "1 3 5 7", "close root position"),
        ((59, 60, 64, 67), "7 1 3 5", "close third inversion"),
        ((55, 64, 71, 72), "5 3 7 1", ""),
        ((55, 64, 67, 72), "5 3 5 1", ""),
        ((58, 62, 64, 67), "b7 9 3 5", "rootless from b7"),
        ((64, 67, 70, 74), "3 5 b7 9", "rootless from 3"),
        ((48, 55, 64), "1 5 3", ""),
        ((60, 65, 67), "1 4 5", ""),
    ],
)
def test_a_hand_is_named_by_its_shape(keys, degrees, name):
    assert shape(keys, degrees.split()) == name


def test_drop_2_is_a_close_chord_whose_second_note_from_the_top_stands_an_octave_lower():
    # C E G B in close position, its G dropped: G3 C4 E4 B4.
    assert shape((55, 60, 64, 71), ["5", "1", "3", "7"]) == "drop 2"


def test_a_plan_names_the_shape_of_each_hand(planned):
    step = planned("Em7 A7", method="shell").steps[0]
    words = shape_words(step)
    for hand in (step.left, step.right):
        assert "-".join(counted([note.key for note in hand], [note.degree for note in hand])) in words


@pytest.mark.parametrize(
    ("keys", "degrees", "said"),
    [
        ((48, 55, 64), "1 5 3", "1 5 10"),
        ((50, 60, 65), "1 b7 b3", "1 b7 b10"),
        ((48, 64), "1 3", "1 10"),
        ((43, 50, 55), "1 5 1", "1 5 8"),
        ((48, 52, 55), "1 3 5", "1 3 5"),
        ((52, 60, 67), "3 1 5", "3 1 5"),
    ],
)
def test_a_third_beyond_the_octave_is_a_tenth(keys, degrees, said):
    assert counted(keys, degrees.split()) == said.split()


def test_a_spread_is_said_with_its_tenth(planned):
    steps = planned("C F G C", method="spread", reach=(230.0, 230.0)).steps
    assert any("10" in shape_words(step) for step in steps)
    assert all("5-3" not in shape_words(step).partition(", right")[0] for step in steps)


def test_a_chord_over_one_of_its_own_tones_is_called_by_its_inversion_whatever_the_method(planned):
    for method in ("shell", "triad", "auto"):
        steps = planned("Cmaj7 C/E F C/G D/C Am7", method=method).steps
        assert [inversion(step) for step in steps] == [
            "",
            "first inversion",
            "",
            "second inversion",
            "third inversion",
            "",
        ]
        assert shape_words(steps[1]).startswith("first inversion: ")


def test_beside_a_bass_player_the_inversion_is_not_in_our_hands(planned):
    assert all(inversion(step) == "" for step in planned("D/C C/Bb", bass=True).steps)


def test_nothing_is_called_rootless_over_its_root(planned):
    (over_its_root,) = planned("Dm7", method="drop2").steps
    assert "rootless" not in shape_words(over_its_root)
    (bare,) = planned("Dm9", method="rootless", bass=True, hands="left").steps
    assert "left rootless from" in shape_words(bare)
