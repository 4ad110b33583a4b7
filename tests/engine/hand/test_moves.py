from engine.hand.grip import Grip
from engine.hand.moves import Move, lifted, moves


def test_each_finger_holds_slides_takes_over_or_lands():
    before = Grip((60, 64, 67), (1, 3, 5))
    after = Grip((60, 65, 67, 69), (1, 2, 3, 5))
    assert moves(before, after) == (
        Move(1, 60, "hold", 60),
        Move(2, 65, "press", None),
        Move(3, 67, "refinger", 64),
        Move(5, 69, "slide", 67),
    )


def test_a_finger_that_the_next_chord_does_not_need_lifts():
    assert lifted(Grip((60, 64), (1, 3)), Grip((60,), (1,))) == ((3, 64),)


def test_from_rest_every_finger_lands():
    assert {move.kind for move in moves(Grip((), ()), Grip((60, 64), (1, 3)))} == {"press"}
