import pytest

from engine.performance.events import control, note_off, note_on
from engine.performance.listening import Found
from engine.performance.pedal import CONTROL, NOTE, Switch, read_switch, switch_words
from engine.performance.player_input import Ears, found, hear, learnt, start_learning, turn_page, with_switches

NEXT = (Switch(CONTROL, 64, 1), "next")


def told(ears, *line):
    done = []
    for at, data in line:
        ears, deeds = hear(ears, data, at)
        done += deeds
    return ears, done


def test_a_pedal_steps_and_the_hand_is_heard_beside_it():
    ears, deeds = told(with_switches(NEXT), (1.0, note_on(60)), (1.1, control(64, 127)), (1.3, control(64, 0)))
    assert deeds == ["next"]
    assert ears.held.keys == {60}


def test_two_pedals_have_two_deeds():
    back = (Switch(CONTROL, 67, 1), "back")
    _, deeds = told(with_switches(NEXT, back), (1.0, control(67, 127)), (1.1, control(64, 127)))
    assert deeds == ["back", "next"]


def test_a_switch_that_sends_notes_is_no_key_of_the_hand():
    ears, deeds = told(with_switches((Switch(NOTE, 24, 1), "next")), (1.0, note_on(24)), (1.1, note_off(24)))
    assert deeds == ["next"]
    assert ears.held.keys == frozenset()


def test_a_switch_is_learnt_once_it_was_pressed_and_let_go():
    ears, deeds = told(start_learning(Ears()), (5.0, control(66, 127)), (5.3, control(66, 0)))
    assert deeds == []
    assert learnt(ears, "next", 5.5)[1] is None
    ears, switch = learnt(ears, "next", 6.1)
    assert switch == Switch(CONTROL, 66, 1)
    assert told(ears, (7.0, control(66, 127)))[1] == ["next"]


def test_an_inverted_switch_steps_when_it_is_pressed():
    ears, _ = told(start_learning(Ears()), (5.0, control(64, 0)), (5.3, control(64, 127)))
    ears, switch = learnt(ears, "next", 6.1)
    assert switch == Switch(CONTROL, 64, 1, inverted=True)
    assert told(ears, (7.0, control(64, 0)), (7.3, control(64, 127)))[1] == ["next"]


def test_a_deed_has_one_switch_and_a_switch_one_deed():
    ears = start_learning(with_switches(NEXT, (Switch(CONTROL, 66, 1), "back")))
    ears, _ = told(ears, (5.0, control(66, 127)))
    assert learnt(ears, "next", 6.1)[0].switches == ((Switch(CONTROL, 66, 1), "next"),)


def test_what_is_no_switch_teaches_nothing():
    ears, _ = told(start_learning(Ears()), (5.0, b"\xe0\x00\x40"))
    ears, switch = learnt(ears, "next", 6.1)
    assert switch is None
    assert ears.learning == ()


def test_a_chord_found_turns_the_page_once(planned):
    plan = planned((4, (50,), (60,)), (4, (43,), (59,)))
    ears, _ = told(Ears(), (1.0, note_on(50)), (1.01, note_on(60)))
    assert found(ears, plan.steps[0], 1.1).found is Found.EXACT
    assert found(turn_page(ears), plan.steps[1], 1.2) is None


@pytest.mark.parametrize("switch", [Switch(CONTROL, 64, 1), Switch(NOTE, 0, 16), Switch(CONTROL, 67, 3, inverted=True)])
def test_a_switch_survives_the_players_file(switch):
    assert read_switch(switch_words(switch)) == switch


@pytest.mark.parametrize("text", ["", "pedal", "control 128 channel 1", "note 5 channel 0", "control 64"])
def test_other_words_are_no_switch(text):
    with pytest.raises(ValueError, match="write it as"):
        read_switch(text)
