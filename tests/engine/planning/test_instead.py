"""Another voicing is shown with the moves it would take."""

from engine.planning.alternatives import alternatives
from engine.planning.instead import instead
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold

STEPS = unfold(song_from_chart("| Dm7 | G7 | Cmaj7 | % |", "C", "4/4", 100))


def test_the_plans_own_voicing_in_its_own_place_is_the_plan() -> None:
    planned = plan(STEPS, Request(share_passes=False))
    own = alternatives(STEPS, Request(share_passes=False), 1)[0]
    shown = instead(planned.steps[0], planned.steps[1], (own.left, own.left_fingers), (own.right, own.right_fingers))
    assert shown.keys == planned.steps[1].keys
    assert [note.degree for note in shown.right] == [note.degree for note in planned.steps[1].right]


def test_every_alternative_is_shown_with_a_move_for_each_of_its_fingers() -> None:
    planned = plan(STEPS, Request())
    others = alternatives(STEPS, Request(), 1)
    assert others
    for other in others:
        shown = instead(
            planned.steps[0], planned.steps[1], (other.left, other.left_fingers), (other.right, other.right_fingers)
        )
        assert shown.keys == tuple(sorted({*other.left, *other.right}))
        held = {(note.finger, note.key) for note in planned.steps[0].right}
        for note in shown.right:
            assert (note.move == "hold") is ((note.finger, note.key) in held)
