"""Shapes named as players name them (common practice)."""

import pytest

from engine.planning.shape_words import shape, shape_words


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
    assert all("-".join(note.degree for note in hand) in words for hand in (step.left, step.right))
