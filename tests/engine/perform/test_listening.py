"""Takes in this file are generated (seeded), not recorded: fingers of a chord land spread over up to 35 ms."""

import random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from engine.perform.events import note_off, note_on
from engine.perform.listening import SETTLING, Found, Held, hear_step, judge, lateness, next_step, press, settled

DM7 = (50, 60, 65, 69)

chords = st.lists(st.integers(36, 84), min_size=1, max_size=8, unique=True).map(tuple)


@pytest.mark.parametrize(
    ("keys", "found"),
    [
        ((50, 60, 65, 69), Found.EXACT),
        ((38, 60, 65, 69), Found.ELSEWHERE),
        ((50, 65, 69, 72), Found.ELSEWHERE),
        ((38, 50, 60, 65, 69), Found.ELSEWHERE),
        ((53, 60, 62, 69), Found.TURNED),
        ((50, 60, 65), Found.MISSING),
        ((50, 60, 65, 69, 71), Found.EXTRA),
        ((50, 60, 66, 69), Found.WRONG),
        ((49,), Found.WRONG),
        ((), Found.NOTHING),
    ],
)
def test_what_is_held_is_named_as_a_teacher_would(keys, found):
    assert judge(DM7, frozenset(keys)).found is found


def test_right_missing_and_wrong_keys_are_told_apart():
    answer = judge(DM7, frozenset((50, 60, 66, 69)))
    assert (answer.right, answer.missing, answer.wrong) == ((50, 60, 69), (65,), (66,))


@given(chords)
def test_the_planned_keys_are_always_found(keys):
    assert judge(keys, frozenset(keys)).found is Found.EXACT


@given(chords, st.integers(-2, 2))
def test_the_chord_an_octave_away_is_the_chord_elsewhere(keys, octaves):
    assert judge(keys, frozenset(key + 12 * octaves for key in keys)).accepted


@given(chords, chords)
def test_a_chord_of_other_notes_is_never_accepted(planned_keys, played):
    assume({key % 12 for key in planned_keys} != {key % 12 for key in played})
    assert not judge(planned_keys, frozenset(played)).accepted


@given(chords, chords)
def test_every_held_key_is_either_right_or_wrong_or_the_chord_elsewhere(planned_keys, played):
    answer = judge(planned_keys, frozenset(played))
    wanted = {key % 12 for key in planned_keys}
    assert set(answer.wrong) == {key for key in played if key % 12 not in wanted}
    assert set(answer.right) == set(planned_keys) & set(played)


def test_nothing_is_judged_while_fingers_are_landing(planned):
    step = planned((4, (50,), (60, 65, 69))).steps[0]
    held = press(Held(), note_on(50), 1.0)
    assert hear_step(step, held, 1.02) is None
    for n, key in enumerate((60, 65, 69)):
        held = press(held, note_on(key), 1.03 + n / 100)
    assert hear_step(step, held, 1.06) is None
    assert hear_step(step, held, 1.11).found is Found.EXACT


def test_a_chord_held_over_from_the_step_before_does_not_answer_the_next(planned):
    plan = planned((4, (50,), (60,)), (4, (43,), (59,)))
    held = next_step(press(press(Held(), note_on(50), 1.0), note_on(60), 1.0))
    assert hear_step(plan.steps[1], held, 2.0) is None


def test_a_step_that_holds_everything_is_found_by_holding(planned):
    plan = planned((4, (50,), (60,)), (4, (50,), (60,)))
    held = next_step(press(press(Held(), note_on(50), 1.0), note_on(60), 1.0))
    assert hear_step(plan.steps[1], held, 2.0).found is Found.EXACT


def test_a_note_on_without_velocity_lets_go():
    held = press(press(Held(), note_on(50), 1.0), b"\x90\x32\x00", 1.1)
    assert held.keys == frozenset()
    assert held.newest == 1.0


def test_other_messages_are_not_the_hands():
    assert press(Held(), b"\xb0\x40\x7f", 1.0) == Held()
    assert press(Held(), b"\xf8", 1.0) == Held()
    assert press(Held(), b"\xfe", 1.0) == Held()


def test_lateness_is_that_of_the_last_finger():
    held = press(press(Held(), note_on(50), 3.95), note_on(60), 4.08)
    assert lateness(4.0, held) == pytest.approx(0.08)
    assert lateness(4.0, Held()) is None


def take(keys, begin, chance, slips=()):
    """A generated take: each key at a moment of its own within 35 ms; `slips` are struck and let go within 20 ms."""
    line = [(begin + chance.uniform(0, 0.035), note_on(key)) for key in keys]
    for key in slips:
        line += [(begin, note_on(key)), (begin + 0.02, note_off(key))]
    return sorted(line)


def verdict(step, line, end):
    """Judge as the stand does: at every 10 ms, taking the first judgement of a hand that is still."""
    held, due = Held(), list(line)
    now = line[0][0] if line else 0.0
    while now < end:
        while due and due[0][0] <= now:
            at, data = due.pop(0)
            held = press(held, data, at)
        if (answer := hear_step(step, held, now)) is not None and not due:
            return answer
        now += 0.01
    return None


def test_of_generated_takes_few_right_ones_are_refused_and_few_wrong_ones_accepted(planned):
    chance = random.Random(5)
    refused = accepted = 0
    for _ in range(500):
        left = (chance.randrange(36, 48),)
        right = tuple(sorted(chance.sample(range(55, 76), 3)))
        step = planned((4, left, right)).steps[0]
        slip = (chance.randrange(77, 84),) if chance.random() < 0.2 else ()
        answer = verdict(step, take(step.keys, 1.0, chance, slip), 1.5)
        refused += answer is None or not answer.accepted
        off = list(step.keys)
        index = chance.randrange(len(off))
        off[index] += chance.choice((-1, 1))
        answer = verdict(step, take(tuple(off), 1.0, chance), 1.5)
        same = {key % 12 for key in off} == {key % 12 for key in step.keys}
        accepted += answer is not None and answer.accepted and not same
    assert refused < 0.02 * 500
    assert accepted < 0.01 * 500


def test_the_hand_is_settled_after_a_short_stillness():
    held = press(Held(), note_on(50), 1.0)
    assert not settled(held, 1.0 + SETTLING - 0.001)
    assert settled(held, 1.0 + SETTLING + 0.001)
    assert not settled(Held(), 5.0)
