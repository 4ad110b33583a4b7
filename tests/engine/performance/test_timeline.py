import pytest

from engine.performance.events import note_off, note_on
from engine.performance.timeline import (
    Loop,
    Mark,
    Performance,
    Playing,
    after_pause,
    leave_loop,
    next_due,
    take_due,
    taken_over,
)

ON, OFF = note_on(60), note_off(60)


def played(performance, began=10.0, cue_after=None, most=40):
    """Play to the end on a clock that is never late; returns (seconds since the beginning, what was due)."""
    playing, line = Playing(performance, began), []
    while (at := next_due(playing)) is not None and len(line) < most:
        if cue_after is not None and at - began >= cue_after:
            playing, cue_after = leave_loop(playing), None
            continue
        playing, due = take_due(playing, at)
        line += [(at - began, item) for item in due]
    return line


def test_nothing_is_due_before_its_time():
    playing = Playing(Performance(((1.0, ON),)), 10.0)
    assert take_due(playing, 10.99) == (playing, ())
    assert take_due(playing, 11.0)[1] == (ON,)


def test_messages_of_a_moment_go_before_its_marks():
    performance = Performance(((1.0, ON),), (Mark(1.0, "beat", 3),))
    assert take_due(Playing(performance, 0.0), 5.0)[1] == (ON, Mark(1.0, "beat", 3))


def test_late_moments_are_caught_up_one_by_one_in_their_order():
    playing = Playing(Performance(((1.0, ON), (2.0, OFF))), 0.0)
    playing, first = take_due(playing, 9.0)
    playing, second = take_due(playing, 9.0)
    assert (first, second, playing.over) == ((ON,), (OFF,), True)


def test_a_loop_is_played_until_it_is_left():
    performance = Performance(((1.0, ON), (1.5, OFF), (2.0, b"after")), (), (Loop(1.0, 2.0),), 2.0)
    line = played(performance, cue_after=3.7)
    assert [(at, item) for at, item in line if isinstance(item, bytes)] == [
        (1.0, ON), (1.5, OFF), (2.0, ON), (2.5, OFF), (3.0, ON), (3.5, OFF), (4.0, b"after"),
    ]  # fmt: skip


def test_each_pass_of_a_loop_is_said_and_what_follows_it_waits():
    performance = Performance(((0.0, ON), (1.0, b"after")), (), (Loop(0.0, 1.0),), 2.0)
    passes = [item for _, item in played(performance, most=6) if isinstance(item, Mark)]
    assert passes == [Mark(1.0, "pass", 1), Mark(1.0, "pass", 2), Mark(1.0, "pass", 3)]


def test_ten_minutes_of_looping_do_not_drift():
    bar = 4 * 60 / 113.7
    performance = Performance(((0.0, ON),), (), (Loop(0.0, bar),), bar)
    last, _ = played(performance, most=600)[-2]
    assert last == pytest.approx(299 * bar, abs=1e-9)


def test_leaving_when_no_loop_is_left_changes_nothing():
    playing = Playing(Performance(((1.0, ON),)), 0.0)
    assert leave_loop(playing) == playing


def test_after_a_suspended_machine_the_music_goes_on_where_it_stood():
    playing = take_due(Playing(Performance(((1.0, ON), (2.0, OFF))), 10.0), 11.0)[0]
    woken = after_pause(playing, 100.0)
    assert next_due(woken) == 100.0
    assert take_due(woken, 100.0)[1] == (OFF,)


def test_a_little_late_is_caught_up():
    playing = Playing(Performance(((1.0, ON),)), 10.0)
    assert after_pause(playing, 11.9) == playing


def test_an_empty_performance_is_over_at_once():
    assert Playing(Performance(), 0.0).over


def steps(beat, *keys):
    """Return one key a bar of four beats of so many seconds, marked as steps 7, 8 ..."""
    bar = 4 * beat
    messages = [
        event for n, key in enumerate(keys) for event in ((n * bar, note_on(key)), ((n + 1) * bar, note_off(key)))
    ]
    marks = tuple(Mark(n * bar, "step", 7 + n) for n in range(len(keys)))
    return Performance(tuple(sorted(messages)), marks, (), len(keys) * bar)


def test_another_key_goes_on_at_the_same_step_and_another_tempo_from_its_own_moment_on():
    playing, _ = take_due(Playing(steps(0.5, 60, 62, 64), 10.0), 10.0)
    slower = steps(1.0, 65, 67, 69)
    assert taken_over(playing, slower, 11.0) is None
    on, sounding = taken_over(playing, slower, 12.0)
    assert next_due(on) == 12.0
    assert take_due(on, 12.0)[1][-1] == Mark(4.0, "step", 8)
    assert note_on(67) in take_due(on, 12.0)[1]
    assert next_due(take_due(on, 12.0)[0]) == 16.0
    # The chord that ends at that moment is not struck any more.
    assert sounding == ()


def test_a_key_that_is_held_over_the_step_is_sounding_when_another_performance_takes_over():
    held = Performance(((0.0, ON), (4.0, OFF)), (Mark(0.0, "step", 0), Mark(2.0, "step", 1)), (), 4.0)
    playing, _ = take_due(Playing(held, 0.0), 0.0)
    assert taken_over(playing, held, 2.0)[1] == (ON,)
