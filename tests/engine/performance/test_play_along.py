from dataclasses import replace
from fractions import Fraction

import pytest

from engine.performance.events import wire
from engine.performance.play_along import Ride, beats_to_bar, climb, count_performance, play_along
from engine.performance.rendering import PERCUSSION
from engine.performance.sound_settings import Touch
from engine.performance.timeline import Loop


def struck(performance, channel=1):
    """(seconds, key) of the note-ons on a channel."""
    return [(at, data[1]) for at, data in performance.messages if data[0] == 0x90 | channel - 1]


def marks(performance, kind):
    return [(mark.seconds, mark.value) for mark in performance.marks if mark.kind == kind]


def test_the_stand_moves_with_the_music_after_the_count(planned, song):
    performance = play_along(song, planned((4, (48,), ()), (2, (50,), ()), (2, (43,), ())))
    assert marks(performance, "step") == [(2.0, 0), (4.0, 1), (5.0, 2)]
    assert performance.seconds == 6.0


def test_the_beat_light_goes_through_count_and_music(planned, song):
    performance = play_along(song, planned((4, (48,), ()), (4, (50,), ())))
    assert [value for _, value in marks(performance, "beat")] == [3, 1, 1, 1] * 3
    assert [at for at, _ in marks(performance, "beat")] == pytest.approx([n / 2 for n in range(12)])


def test_the_click_can_end_with_the_count(planned, song):
    plan = planned((4, (48,), ()), (4, (50,), ()))
    assert len(struck(play_along(song, plan), PERCUSSION)) == 12
    assert len(struck(play_along(song, plan, Ride(click=False)), PERCUSSION)) == 4


def test_each_chord_comes_in_its_place_and_none_before_it(planned, song):
    performance = play_along(song, planned((4, (48,), ()), (4, (50,), ())))
    assert struck(performance) == [(2.0, 48), (4.0, 50)]


def test_an_early_guide_sounds_a_beat_before_its_change_and_stops_there(planned, song):
    performance = play_along(song, planned((4, (48,), ()), (4, (50,), ())), Ride(guide="early"))
    assert struck(performance) == [(1.5, 48), (3.5, 50)]
    off = [at for at, data in performance.messages if data[:2] == bytes((0x80, 50))]
    assert off == [4.0]


def test_an_early_guide_is_quiet(planned, song):
    performance = play_along(song, planned((4, (48,), ()), (4, (50,), ())), Ride(guide="early", touch=Touch(guide=33)))
    assert {data[2] for _, data in performance.messages if data[0] == 0x90} == {33}


def test_without_a_guide_only_the_click_sounds(planned, song):
    performance = play_along(song, planned((4, (48,), ())), Ride(guide="none"))
    assert struck(performance) == []


def test_a_stretch_in_the_middle_is_counted_in_and_goes_round(planned, song):
    plan = planned((4, (48,), ()), (4, (50,), ()), (4, (43,), ()))
    performance = play_along(song, plan, Ride(first=1, last=1, loop=True))
    assert performance.loops == (Loop(2.0, 4.0),)
    assert marks(performance, "step") == [(2.0, 1)]


def test_starting_on_the_third_beat_the_count_leads_up_to_it(planned, song):
    plan = planned((2, (48,), ()), (2, (50,), ()), (4, (43,), ()))
    assert beats_to_bar(plan.steps[1:]) == 2
    assert len(marks(play_along(song, plan, Ride(first=1, click=False)), "beat")) == 2 + 2 + 4


def test_a_pickup_bar_is_left_out_of_the_count(planned, song):
    plan = planned((1, (48,), (), {"bar": 0}), (4, (50,), (), {"bar": 1, "beat": Fraction(1)}))
    assert beats_to_bar(plan.steps) == 1
    assert marks(play_along(song, plan), "step")[0] == (1.5, 0)


def test_a_vamp_goes_round_until_its_cue(planned, song):
    vamp = {"section": "Vamp", "until": "cue"}
    plan = planned((4, (48,), ()), (4, (50,), (), vamp), (4, (52,), (), vamp), (4, (43,), (), {"section": "B"}))
    assert play_along(song, plan).loops == (Loop(4.0, 8.0),)


def test_a_push_out_of_a_vamp_is_not_heard_before_the_cue(planned, song):
    vamp = {"section": "Vamp", "until": "cue"}
    plan = planned((4, (48,), ()), (4, (50,), (), vamp), (4, (43,), (), {"section": "B", "mark": "push"}))
    performance = play_along(song, plan)
    (loop,) = performance.loops
    assert loop == Loop(3.75, 5.75)
    assert [at for at, key in struck(performance) if key == 43] == [5.75]


def test_every_vamp_at_the_end_goes_round_as_well(planned, song):
    plan = planned((4, (48,), ()), (4, (50,), (), {"section": "Vamp", "until": "cue"}))
    assert play_along(song, plan).loops == (Loop(4.0, 6.0),)


def test_the_pedal_is_up_at_the_end(planned, song):
    performance = play_along(song, planned((4, (48,), ()), (4, (50,), ())), Ride(touch=Touch(pedal=True)))
    pedal = [data[2] for _, data in performance.messages if data[:2] == bytes((0xB0, 64))]
    assert pedal == [0, 127, 0, 127, 0]


def test_each_rung_of_a_ladder_is_counted_in_at_its_own_tempo(planned, song):
    performance = climb(song, planned((4, (48,), ())), (60.0, 120.0))
    assert marks(performance, "rung") == [(0.0, 0), (8.0, 1)]
    assert marks(performance, "step") == [(4.0, 0), (10.0, 0)]
    assert performance.seconds == 12.0


def test_the_count_alone_ends_where_the_music_begins(planned, song):
    performance = count_performance(song, planned((4, (48,), (64,))))
    assert performance.seconds == 2.0
    assert [key for _, key in struck(performance)] == [48, 64]


def test_a_song_without_chords_is_silence(planned, song):
    assert play_along(song, planned()).messages == ()
    assert count_performance(song, planned()).seconds == 0.0


def test_messages_are_in_the_order_of_time_with_everything_switched_on(planned, song):
    plan = planned((4, (48,), (60,)), (3, (50,), (60,)), (1, (43,), (59,), {"mark": "push"}), (4, (48,), (60,)))
    for guide in ("step", "early"):
        ride = Ride(touch=Touch(pedal=True), guide=guide, lead=True)
        times = [at for at, _ in play_along(replace(song, feel="swing", count="two bars"), plan, ride).messages]
        assert times == sorted(times)


@pytest.mark.parametrize("ride", [Ride(guide="loud"), Ride(first=1), Ride(last=5)])
def test_what_the_plan_does_not_have_is_refused(planned, song, ride):
    with pytest.raises(ValueError, match=r"guide|steps"):
        play_along(song, planned((4, (48,), ())), ride)


def test_wire_of_nothing_is_nothing():
    assert wire(()) == ()


def test_every_other_round_is_the_players_alone(planned, song):
    plan = planned((4, (48,), (60,)), (4, (50,), (62,)))
    performance = play_along(song, plan, Ride(loop=True, alternate=True))
    assert performance.loops == (Loop(2.0, 10.0),)
    assert [at for at, _ in struck(performance) if at >= 2] == [2, 2, 4, 4]
    assert marks(performance, "step") == [(2.0, 0), (4.0, 1), (6.0, 0), (8.0, 1)]
    assert len(struck(performance, PERCUSSION)) == 4 + 8 + 8


def test_only_the_hand_that_the_player_leaves_out_may_be_sounded(planned, song):
    plan = planned((4, (48,), (60,)), (4, (50,), (62,)))
    performance = play_along(song, plan, Ride(hand="left", counted=False))
    assert [key for _, key in struck(performance)] == [48, 50]


def test_a_guide_plays_the_songs_rhythm(planned, song):
    plan = planned((4, (48,), (60,), {"comp": "charleston"}))
    performance = play_along(song, plan, Ride(counted=False))
    assert [at for at, key in struck(performance) if key == 60] == [0, 0.75]
