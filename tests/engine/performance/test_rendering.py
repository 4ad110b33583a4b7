import pytest

from engine.performance.count_in import count_in
from engine.performance.rendering import CLAVES, PERCUSSION, count_in_notes, plan_notes
from engine.performance.sound_settings import Touch, entry, pedalled, voiced
from engine.theory.meter import Meter


def sounding(notes, at):
    return sorted(note.key for note in notes if note.seconds <= at < note.ends)


def test_the_first_chord_sounds_as_a_guide_on_the_last_beat_of_the_count(planned):
    first = planned((4, (48,), (64, 67))).steps[0]
    notes = count_in_notes(count_in(Meter(4, 4), 120, "straight", "one bar"), first)
    guide = [note for note in notes if note.channel != PERCUSSION]
    assert [(note.key, note.seconds, note.ends) for note in guide] == [(48, 1.5, 2), (64, 1.5, 2), (67, 1.5, 2)]


def test_the_guide_is_softer_than_every_click(planned):
    first = planned((4, (48,), (64, 67))).steps[0]
    notes = count_in_notes(count_in(Meter(4, 4), 120), first)
    clicks = [note.velocity for note in notes if note.channel == PERCUSSION]
    assert max(note.velocity for note in notes if note.channel != PERCUSSION) < min(clicks)


def test_one_is_clicked_high_and_the_other_beats_low():
    keys = [note.key for note in count_in_notes(count_in(Meter(3, 4), 120, "straight", "one bar"))]
    assert keys[0] == CLAVES
    assert CLAVES not in keys[1:]


def test_a_common_tone_is_struck_once_and_held_through(planned):
    plan = planned((4, (50,), (60, 65)), (4, (43,), (59, 65)))
    held = [note for note in plan_notes(plan, 120) if note.key == 65]
    assert [(note.seconds, note.lasts) for note in held] == [(0.0, 4.0)]


def test_without_holding_every_chord_is_struck_whole(planned):
    plan = planned((4, (50,), (60, 65)), (4, (43,), (59, 65)))
    struck = [note.seconds for note in plan_notes(plan, 120, touch=Touch(restrike="chord")) if note.key == 65]
    assert struck == [0.0, 2.0]


def test_each_step_sounds_its_own_keys(planned):
    plan = planned((4, (50,), (60, 65)), (2, (43,), (59, 65)), (2, (), ()), (4, (48,), (60, 64)))
    notes = plan_notes(plan, 120)
    at = 0.0
    for step in plan.steps:
        assert sounding(notes, at + 0.1) == list(step.keys)
        at += float(step.step.beats) * 0.5


def test_a_push_comes_an_eighth_early_and_in_swing_a_third_of_a_beat(planned):
    plan = planned((4, (50,), ()), (4, (43,), (), {"mark": "push"}))
    assert [note.seconds for note in plan_notes(plan, 120) if note.key == 43] == [1.75]
    assert [note.seconds for note in plan_notes(plan, 120, "swing") if note.key == 43] == [pytest.approx(2 - 0.5 / 3)]


def test_a_stop_is_cut_short(planned):
    plan = planned((4, (50,), (), {"mark": "stop"}), (4, (50,), ()))
    assert [(note.seconds, note.lasts) for note in plan_notes(plan, 120)] == [(0.0, 0.25), (2.0, 2.0)]


def test_each_hand_has_its_own_loudness(planned):
    step = planned((4, (48,), (64,))).steps[0]
    assert voiced(step, Touch(left=50, right=90)) == ((48, 50), (64, 90))
    assert voiced(step, Touch(guide=40), guide=True) == ((48, 40), (64, 40))


def test_a_key_that_both_hands_take_is_struck_once_with_the_louder_hand(planned):
    step = planned((4, (60,), (60, 64))).steps[0]
    assert voiced(step, Touch(left=50, right=90)) == ((60, 90), (64, 90))


def test_a_sound_is_called_up_bank_first():
    assert entry(Touch(channel=3, program=16, bank=130)) == (b"\xb2\x00\x01", b"\xb2\x20\x02", b"\xc2\x10")
    assert entry(Touch()) == ()
    loud = Touch(channel=2, program=0, bank=0, volume=100)
    assert entry(loud) == (b"\xb1\x00\x00", b"\xb1\x20\x00", b"\xc1\x00", b"\xb1\x07\x64")


def test_the_pedal_is_lifted_at_each_change_and_at_the_end():
    line = pedalled((0.0, 2.0), 4.0, Touch(pedal=True))
    assert [(seconds, data[2]) for seconds, data in line] == [(0, 0), (0.08, 127), (2, 0), (2.08, 127), (4, 0)]
