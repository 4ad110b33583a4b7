from dataclasses import replace

from engine.planning.model import PlannedStep
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from tests.tui import charts
from tui.screens.practice.listening import LATE, Heard, hear

STEPS: tuple[PlannedStep, ...] = charts.plan_of(charts.unfold(charts.LAMPS)).steps


def heard() -> Heard:
    return Heard(STEPS, 2, 1.0)


def played(*times: float) -> Heard:
    so_far = heard()
    for step, at in zip(STEPS, times, strict=False):
        so_far = hear(so_far, step.keys, at)
    return so_far


def test_all_chords_in_order_and_in_time_are_a_clean_try() -> None:
    assert played(0, 1, 2, 3).clean is True


def test_a_shift_that_comes_too_late_is_a_stop() -> None:
    assert played(0, 1, 2 + LATE, 5).clean is False
    assert "the shift in 2.25 s" in played(0, 1, 2 + LATE, 5).words


def test_before_the_last_chord_there_is_no_verdict() -> None:
    assert played(0, 1, 2).clean is None
    assert played(0, 1).words == "found Dm7, now Gm7"


def test_keys_of_the_chord_before_may_still_be_down() -> None:
    so_far = hear(played(0), STEPS[0].keys[:2] + STEPS[1].keys[:1], 0.5)
    assert not so_far.wrong


def test_a_foreign_key_makes_it_a_stop() -> None:
    so_far = hear(played(0), (61, 66), 0.5)
    for number, at in ((1, 1.0), (2, 2.0), (3, 3.0)):
        so_far = hear(so_far, STEPS[number].keys, at)
    assert so_far.clean is False
    assert "foreign key" in so_far.words


def test_looking_for_the_first_chord_is_no_part_of_the_try() -> None:
    so_far = hear(heard(), (61, 66), 0.0)
    assert not so_far.wrong
    assert so_far.words == "listening for Am7"


def test_the_same_chord_an_octave_higher_is_found() -> None:
    assert len(hear(heard(), tuple(key + 12 for key in STEPS[0].keys), 0.0).found) == 1


def test_after_the_verdict_nothing_changes_it() -> None:
    through = played(0, 1, 2, 3)
    assert hear(through, (61,), 9.0) == through


def test_nothing_held_says_nothing() -> None:
    assert hear(played(0), (), 1.0) == played(0)


def test_the_strokes_of_a_left_hands_pattern_are_no_foreign_keys() -> None:
    song = replace(song_from_chart("| G7 | Cmaj7 |"), left_hand="walking")
    first, last = plan(unfold(song)).steps
    right = {note.key for note in first.right}
    so_far = hear(Heard((first, last), 1, 1.0), first.keys, 0)
    for stroke in first.strokes[1:]:
        so_far = hear(so_far, tuple(sorted(right | {note.key for note in stroke.notes})), 0.5)
    assert hear(so_far, last.keys, 1).clean is True
