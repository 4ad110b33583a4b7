from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.performance.following import (
    CLOCK,
    CONTINUE,
    LAST_POSITION,
    LAST_SONG,
    START,
    STOP,
    Place,
    hear,
    lead_messages,
    lost,
    place_messages,
    step_at,
    step_positions,
)
from engine.theory.meter import Meter


def steps_of(plan):
    return tuple(step.step for step in plan.steps)


def told(messages, place=None):
    place = place or Place()
    for at, data in messages:
        place = hear(place, data, at)
    return place


def test_song_and_position_are_understood_as_they_were_sent():
    place = told((0.0, data) for data in place_messages(7, 1234))
    assert (place.song, place.sixteenth, place.running) == (7, 1234, None)


@given(st.integers(0, 127), st.integers(0, 0x3FFF))
def test_every_place_the_standard_can_carry_survives(song, sixteenth):
    place = told((0.0, data) for data in place_messages(song, sixteenth))
    assert (place.song, place.sixteenth) == (song, sixteenth)


@given(st.integers(0x80, 0xFF), st.lists(st.integers(0, 127), max_size=3))
def test_whatever_comes_a_follower_stays_where_the_standard_can_carry_it(status, values):
    place = hear(Place(0, 0, True), bytes((status, *values)), 1.0)
    assert 0 <= place.song <= LAST_SONG
    assert 0 <= place.sixteenth <= LAST_POSITION


def test_the_first_clock_is_the_place_itself_and_six_more_are_a_sixteenth():
    place = hear(Place(), bytes((START,)), 0.0)
    for n in range(7):
        assert place.sixteenth == 0
        place = hear(place, bytes((CLOCK,)), n / 48)
    assert place.sixteenth == 1


def test_the_clock_does_not_move_a_leader_that_stands():
    place = told((n / 48, bytes((CLOCK,))) for n in range(100))
    assert place.sixteenth is None
    assert place.tempo == pytest.approx(120)


def test_a_clock_after_a_position_runs_when_neither_start_nor_stop_was_heard():
    late = told([(0.0, place_messages(0, 32)[1]), (0.0, bytes((CLOCK,)))])
    assert late.running
    stopped = told([(0.0, bytes((STOP,))), (0.0, place_messages(0, 32)[1]), (0.0, bytes((CLOCK,)))])
    assert not stopped.running


def test_the_song_is_said_again_at_every_section(planned):
    steps = steps_of(planned((4, (), ()), (4, (), ()), (4, (), (), {"section_start": True})))
    selects = [at for at, data in lead_messages(steps, 0, 2, 120, 0.0, 3) if data[0] == 0xF3]
    assert selects == [0.0, 4.0]


def test_the_same_song_selected_again_keeps_the_place():
    assert hear(Place(3, 40, True), place_messages(3, 0)[0], 0.0).sixteenth == 40


def test_stop_and_continue_go_on_from_the_same_place():
    place = Place(0, 40, True)
    place = hear(place, bytes((STOP,)), 1.0)
    assert not place.running
    assert hear(place, bytes((CONTINUE,)), 2.0).sixteenth == 40


@pytest.mark.parametrize(("meter", "tempo"), [(Meter(4, 4), 113.7), (Meter(6, 8), 70), (Meter(7, 8), 200)])
def test_a_follower_shows_the_leaders_step_at_every_step(planned, meter, tempo):
    beats = [meter.beats, Fraction(1), meter.beats - 1, Fraction(1, 2), Fraction(3, 2), meter.beats]
    steps = steps_of(planned(*[(n, (48,), ()) for n in beats], meter=meter))
    positions = step_positions(steps)
    messages = lead_messages(steps, 0, len(steps) - 1, tempo, 2.0, 3)
    at, place = 2.0, Place()
    for index, step in enumerate(steps):
        ends = at + float(step.beats) * meter.beat_seconds(tempo)
        place = told([item for item in messages if at - 2.5 < item[0] <= at + 1e-6 and item[0] >= at - 1e-6], place)
        assert step_at(positions, place.sixteenth) == index
        place = told([item for item in messages if at + 1e-6 < item[0] < ends - 1e-6], place)
        at = ends


def test_by_its_clocks_alone_a_follower_keeps_the_place(planned):
    steps = steps_of(planned((4, (), ()), (4, (), ()), (4, (), ())))
    clocks_only = [m for m in lead_messages(steps, 0, 2, 120, 0.0, 0) if m[1][0] != 0xF2 and m[0] < 5.99]
    assert step_at(step_positions(steps), told(clocks_only).sixteenth) == 2


def test_the_clock_is_24_a_quarter_at_the_songs_tempo(planned):
    steps = steps_of(planned((4, (), ()), (3, (), ()), (1, (), ())))
    ticks = [at for at, data in lead_messages(steps, 0, 2, 97.3, 1.0, 0) if data[0] == CLOCK]
    assert ticks == pytest.approx([1.0 + n * 60 / 97.3 / 24 for n in range(8 * 24)])


def test_a_follower_that_joins_late_is_right_at_the_next_change(planned):
    steps = steps_of(planned((4, (), ()), (4, (), ()), (4, (), ())))
    late = told([m for m in lead_messages(steps, 0, 2, 120, 0.0, 0) if 1.3 < m[0] <= 2.0])
    assert step_at(step_positions(steps), late.sixteenth) == 1


def test_a_ride_from_the_middle_continues_there(planned):
    steps = steps_of(planned((4, (), ()), (4, (), ()), (4, (), ())))
    messages = lead_messages(steps, 1, 2, 120, 0.0, 5)
    place = told(messages[:4])
    assert (place.song, place.sixteenth, place.running) == (5, 16, True)
    assert messages[-1][1] == bytes((STOP,))


def test_a_leader_that_falls_silent_is_noticed():
    place = told([(0.0, bytes((START,))), (0.0, bytes((CLOCK,))), (0.1, bytes((CLOCK,)))])
    assert not lost(place, 0.5)
    assert lost(place, 0.7)
    assert not lost(hear(place, bytes((STOP,)), 0.2), 9.0)


def test_the_step_before_the_first_is_the_first():
    assert step_at((0, 16), -3) == 0
    assert step_at((), 5) == 0


def test_active_sensing_between_the_clocks_moves_nobody():
    running = told([(0.0, bytes((START,))), *((n / 48, bytes((CLOCK,))) for n in range(7))])
    assert hear(running, b"\xfe", 1.0) == running
