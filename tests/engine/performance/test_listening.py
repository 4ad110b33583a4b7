"""Takes are generated (seeded), their fingers spread as pianists' are, or recorded (see recorded.py)."""

import random
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from engine.answer_names import ANSWERS
from engine.chord.symbol import read_symbol
from engine.performance.events import note_off, note_on
from engine.performance.listening import (
    SETTLING,
    Found,
    Held,
    answered,
    hear_step,
    judge,
    lateness,
    next_step,
    press,
    settled,
)
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from tests.engine.performance.by_hand import plan_by_hand
from tests.engine.performance.recorded import take as recorded_take

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


DM7_SHELL = (50,), (60, 65), {"chord": read_symbol("Dm7"), "symbol": "Dm7"}


@pytest.mark.parametrize(
    ("keys", "answers", "found"),
    [
        ((50, 60, 65), "planned", Found.EXACT),
        ((48, 50, 60, 65), "planned", Found.TURNED),
        ((48, 50, 60, 65), "octaves", Found.ADDED),  # an octave under a planned key
        ((53, 60, 62), "octaves", Found.TURNED),  # another bass is no added octave
        ((50, 57, 60, 65), "octaves", Found.EXTRA),  # the fifth is neither
        ((50, 57, 60, 65), "own", Found.OWN),
        ((50, 53, 60, 64), "own", Found.OWN),
        ((53, 60, 64), "own", Found.WRONG),  # the plan has the chord's bass at the bottom
        ((50, 54, 60), "own", Found.WRONG),
        (tuple(range(50, 65)), "own", Found.EXTRA),  # a cluster of fifteen
        ((50, 60), "own", Found.MISSING),
    ],
)
def test_what_counts_as_found_is_what_the_player_says(planned, keys, answers, found):
    step = planned((4, *DM7_SHELL)).steps[0]
    assert answered(step, Held(frozenset(keys), 1.0), answers).found is found


def test_a_root_added_to_a_rootless_chord_is_accepted_if_the_player_says_so(planned):
    step = planned((4, (48, 53), (57, 64), {"chord": read_symbol("Dm7"), "symbol": "Dm7"})).steps[0]
    held = Held(frozenset((38, 48, 53, 57, 64)), 1.0)
    assert answered(step, held).found is Found.EXTRA
    assert answered(step, held, "octaves").found is Found.ADDED


@given(chords, st.sets(st.integers(21, 108), max_size=10))
def test_a_freer_judgement_never_takes_back_a_stricter_one(keys, held):
    step = plan_by_hand((4, keys, (), {"chord": read_symbol("Dm7"), "symbol": "Dm7"})).steps[0]
    accepted = [answered(step, Held(frozenset(held), 1.0), answers).accepted for answers in ANSWERS]
    assert accepted == sorted(accepted)


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


SPREAD, REACH = 0.043, 0.075
"""Seconds within which the fingers of a chord land: the mean and the longest of the recorded take (Goebl 1999)."""
LEAD = 0.03
"""Seconds by which a melody runs before its chord, some 20 to 30 ms. Source: Goebl 2001, Melody lead in piano
performance, Journal of the Acoustical Society of America 110 (from memory)."""


def take(keys, begin, chance, slips=()):
    """A generated take: fingers land spread as pianists' do, the top one often first; `slips` are struck and let go
    within 20 ms."""
    spread = min(chance.gammavariate(4, SPREAD / 4), REACH)
    line = [(begin + chance.uniform(0, spread), note_on(key)) for key in keys[:-1]]
    lead = chance.uniform(0, LEAD) if chance.random() < 0.5 else -chance.uniform(0, spread)
    line.append((begin - lead, note_on(keys[-1])))
    for key in slips:
        line += [(begin, note_on(key)), (begin + 0.02, note_off(key))]
    return sorted(line)


def verdict(step, line, end):
    """Judge as the stand does, a little after each message of a hand that is still; the first chord found counts."""
    held, due, last = Held(), list(line), None
    now = due[0][0]
    while now < end:
        while due and due[0][0] <= now:
            at, data = due.pop(0)
            held = press(held, data, at)
        answer = hear_step(step, held, now)
        last = answer or last
        if answer is not None and answer.accepted:
            return answer
        now += 0.01
    return last


def other_chord(keys, chance):
    """The chord with one finger a half step off, so that it is another chord."""
    while True:
        off = list(keys)
        off[chance.randrange(len(off))] += chance.choice((-1, 1))
        if {key % 12 for key in off} != {key % 12 for key in keys} and len(set(off)) == len(off):
            return tuple(sorted(off))


def test_of_generated_takes_few_right_ones_are_refused_and_few_wrong_ones_accepted(planned):
    chance = random.Random(5)
    refused = accepted = 0
    for _ in range(1000):
        left = (chance.randrange(36, 48),)
        right = tuple(sorted(chance.sample(range(55, 76), 3)))
        step = planned((4, left, right)).steps[0]
        slip = (chance.randrange(77, 84),) if chance.random() < 0.2 else ()
        answer = verdict(step, take(step.keys, 1.0, chance, slip), 1.3)
        refused += answer is None or not answer.accepted
        answer = verdict(step, take(other_chord(step.keys, chance), 1.0, chance), 1.3)
        accepted += answer is not None and answer.accepted
    assert refused < 0.02 * 1000
    assert accepted < 0.01 * 1000


def heard(chord, keys, messages, planned):
    """True when the keys of one chord are found in a recorded take between its first key and the next chord's."""
    step = planned((4, (), keys)).steps[0]
    before = [message for message in messages if message[0] < chord.begins]
    held = Held()
    for at, data in before:
        held = press(held, data, at)
    held = next_step(held)
    due = [message for message in messages if chord.begins <= message[0] < chord.ends]
    now = chord.begins
    while now < chord.ends:
        while due and due[0][0] <= now:
            at, data = due.pop(0)
            held = press(held, data, at)
        answer = hear_step(step, held, now)
        if answer is not None and answer.accepted:
            return True
        now += 0.005
    return False


def test_of_a_pianists_chords_every_one_is_found(planned):
    chords, messages = recorded_take()
    whole = [chord for chord in chords if len(chord.struck) >= 2]
    assert len(whole) == 45
    assert [chord for chord in whole if not heard(chord, chord.keys, messages, planned)] == []


def test_of_a_pianists_chords_none_is_taken_for_one_with_a_note_a_half_step_off(planned):
    chords, messages = recorded_take()
    chance = random.Random(7)
    for chord in chords:
        if len(chord.struck) >= 2:
            assert not heard(chord, other_chord(chord.keys, chance), messages, planned)


def test_a_short_chord_let_go_before_the_hand_is_still_is_found(planned):
    step = planned((4, (50,), (60, 65))).steps[0]
    held = Held()
    for at, key in ((1.0, 50), (1.01, 60), (1.02, 65)):
        held = press(held, note_on(key), at)
    for at, key in ((1.04, 60), (1.05, 50), (1.05, 65)):
        held = press(held, note_off(key), at)
    assert hear_step(step, held, 1.1).found is Found.EXACT


def test_keys_that_were_never_down_together_are_no_short_chord(planned):
    step = planned((4, (50,), (60, 65))).steps[0]
    held = Held()
    for at, data in ((1.0, note_on(50)), (1.01, note_on(60)), (1.02, note_off(50)), (1.03, note_on(65))):
        held = press(held, data, at)
    assert not hear_step(step, held, 1.1).accepted


def test_the_hand_is_settled_after_a_short_stillness():
    held = press(Held(), note_on(50), 1.0)
    assert not settled(held, 1.0 + SETTLING - 0.001)
    assert settled(held, 1.0 + SETTLING + 0.001)
    assert not settled(Held(), 5.0)


def test_a_pattern_is_heard_stroke_by_stroke_with_the_right_hands_chord():
    song = replace(song_from_chart("| G7 | C |"), left_hand="stride")
    step = plan(unfold(song)).steps[0]
    right = frozenset(note.key for note in step.right)
    for stroke in step.strokes:
        held = Held(right | {note.key for note in stroke.notes}, 0.0, right)
        assert answered(step, held).found is Found.EXACT
    assert answered(step, Held(frozenset({61, 62}), 0.0)).found is Found.WRONG
