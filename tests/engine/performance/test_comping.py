"""Laws of comping, tried on many plans: which chord a stroke sounds, and that none lasts into the next."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.comp_names import COMP_NAMES
from engine.performance.rendering import hand_notes, plan_notes
from engine.performance.sound_settings import Touch
from engine.theory.meter import Meter
from tests.engine.performance.by_hand import plan_by_hand

METERS = [Meter(4, 4), Meter(3, 4), Meter(6, 8), Meter(2, 2), Meter(7, 8), Meter(5, 4)]


@st.composite
def comped_plans(draw):
    """Chords of a beat to a bar, each with keys of its own, every one in a rhythm or held, some marked."""
    meter = draw(st.sampled_from(METERS))
    comp = st.sampled_from(["", *COMP_NAMES])
    named = draw(comp)
    chords, key = [], 20
    for _ in range(draw(st.integers(1, 5))):
        left_in_bar = meter.beats
        while left_in_bar:
            beats = draw(st.integers(1, left_in_bar))
            # A push is an eighth early: it would take the whole of an eighth before it.
            push = [] if meter.lower == 8 and chords and chords[-1][0] == 1 else ["push"]
            mark = draw(st.sampled_from(["", "", "", *push, "stop", "ring", "hold"]))
            named = draw(comp) if draw(st.booleans()) else named
            chords.append((beats, (key,), (key + 1, key + 2), {"comp": named, "mark": mark}))
            key += 3
            left_in_bar -= beats
    return plan_by_hand(*chords, meter=meter), draw(st.sampled_from(["straight", "swing"]))


def spans(plan, tempo=120):
    """For each step: its keys, when it is written and when it ends, in seconds, and the length of its beat."""
    at, found = 0.0, []
    for step in plan.steps:
        beat = step.step.beat_seconds(tempo)
        found.append((set(step.keys), at, at + float(step.step.beats) * beat, beat))
        at = found[-1][2]
    return found


@settings(max_examples=300, deadline=None)
@given(comped_plans())
def test_no_chord_lasts_into_the_next(case):
    plan, feel = case
    for keys, _, ends, _ in spans(plan):
        for note in plan_notes(plan, 120, feel):
            assert note.key not in keys or note.ends <= ends + 1e-9


@settings(max_examples=300, deadline=None)
@given(comped_plans())
def test_every_chord_is_struck_by_both_hands_near_its_place(case):
    plan, feel = case
    pulse = 1.0  # No pulse here is longer than a second.
    for hand in ("left", "right"):
        notes = hand_notes(plan, hand, 120, feel)
        for keys, at, ends, _ in spans(plan):
            struck = [note.seconds for note in notes if note.key in keys]
            assert struck
            assert at - pulse <= min(struck) <= min(at + pulse, ends)


@settings(max_examples=200, deadline=None)
@given(comped_plans())
def test_a_hand_never_sounds_two_chords_at_once(case):
    plan, feel = case
    owner = {key: number for number, step in enumerate(plan.steps) for key in step.keys}
    for hand in ("left", "right"):
        # A chord as short as the push that follows it does not sound at all.
        notes = [note for note in hand_notes(plan, hand, 120, feel) if note.lasts > 0]
        for note in notes:
            for other in notes:
                if owner[other.key] != owner[note.key] and note.seconds <= other.seconds:
                    assert note.ends <= other.seconds + 1e-9


def comped(planned, name, *chords, **facts):
    return planned(*((beats, left, right, {"comp": name, **facts, **more}) for beats, left, right, more in chords))


def struck(plan, feel="straight", hand="right", tempo=60):
    return [(note.seconds, note.key) for note in hand_notes(plan, hand, tempo, feel)]


def test_a_chord_on_three_comes_half_a_beat_early_in_a_charleston(planned):
    # The Jazz Chameleon, The Charleston: the chord on beat 3 is anticipated half a beat.
    plan = comped(planned, "charleston", (2, (), (60,), {}), (2, (), (65,), {}), (4, (), (60,), {}))
    assert struck(plan) == [(0, 60), (1.5, 65), (4, 60), (5.5, 60)]


def test_a_chord_on_one_comes_an_off_beat_late_in_a_reverse_charleston(planned):
    # Common practice.
    plan = comped(planned, "reverse charleston", (4, (), (60,), {}), (4, (), (65,), {}))
    assert struck(plan) == [(0.5, 60), (2, 60), (4.5, 65), (6, 65)]


def test_pushes_take_the_chord_of_the_next_bar(planned):
    # Common practice.
    plan = comped(planned, "pushes", (4, (), (60,), {}), (4, (), (65,), {}))
    assert struck(plan) == [(0, 60), (1.5, 60), (3.5, 65), (5.5, 65), (7.5, 65)]


def test_an_off_beat_between_two_chords_sounds_the_one_that_is_written_there(planned):
    plan = comped(planned, "off-beats", (4, (), (60,), {}), (4, (), (65,), {}))
    assert [key for _, key in struck(plan)] == [60] * 4 + [65] * 4


def test_a_chord_far_from_every_stroke_gets_its_own(planned):
    plan = comped(planned, "whole", (2, (), (60,), {}), (2, (), (65,), {}))
    assert struck(plan) == [(0, 60), (2, 65)]


def test_the_same_chord_again_is_no_change(planned):
    plan = comped(planned, "pushes", (4, (), (60,), {}), (4, (), (60,), {}))
    assert [at for at, _ in struck(plan)] == [0, 1.5, 3.5, 5.5, 7.5]
    assert max(note.ends for note in hand_notes(plan, "right", 60) if note.seconds == 3.5) == 5.5


def test_a_written_push_goes_before_the_rhythm(planned):
    plan = comped(planned, "quarters", (4, (), (60,), {}), (4, (), (65,), {"mark": "push"}))
    assert [at for at, key in struck(plan) if key == 65] == [3.5, 5, 6, 7]
    assert [at for at, key in struck(plan) if key == 60] == [0, 1, 2, 3]


def test_a_stop_silences_the_rhythm(planned):
    plan = comped(planned, "quarters", (4, (), (60,), {"mark": "stop"}), (4, (), (65,), {}))
    notes = [note for note in plan_notes(plan, 60) if note.key == 60]
    assert [(note.seconds, note.lasts) for note in notes] == [(0, 0.5)]


def test_a_chord_that_rings_is_struck_once(planned):
    plan = comped(planned, "quarters", (4, (), (60,), {"mark": "ring"}))
    assert [(note.seconds, note.lasts) for note in plan_notes(plan, 60)] == [(0, 4)]


def test_nothing_is_taken_early_into_a_vamp_or_out_of_it(planned):
    vamp = {"section": "V", "until": "cue", "section_start": True}
    out = {"section": "B", "section_start": True}
    plan = comped(planned, "pushes", (4, (), (60,), {}), (4, (), (65,), vamp), (4, (), (67,), out))
    assert struck(plan) == [(0, 60), (1.5, 60), (4, 65), (5.5, 65), (8, 67), (9.5, 67), (11.5, 67)]


def test_a_broken_chord_goes_up_and_down(planned):
    plan = comped(planned, "6/8 broken", (2, (36,), (60, 64, 67), {}), meter=Meter(6, 8))
    assert [key for _, key in struck(plan)] == [60, 64, 67, 64, 60, 64]


def test_accents_are_louder_and_soft_strokes_softer(planned):
    plan = comped(planned, "ballad eighths", (4, (), (60,), {}))
    loud = [note.velocity for note in hand_notes(plan, "right", 60, touch=Touch(right=70))]
    assert loud == [70, 56] * 4


@pytest.mark.parametrize("name", COMP_NAMES)
def test_the_last_bar_of_a_song_ends_with_it(planned, name):
    plan = comped(planned, name, (4, (40,), (60, 64), {}), (Fraction(4), (41,), (61, 65), {}))
    assert max(note.ends for note in plan_notes(plan, 60)) <= 8


def test_on_a_sound_that_decays_shared_keys_are_struck_in_every_bar_or_at_every_chord(planned):
    plan = planned((2, (48,), (60,)), (2, (50,), (60,)), (4, (50,), (60,)))
    for wish, times in (("never", [0]), ("bar", [0, 4]), ("chord", [0, 2, 4])):
        notes = plan_notes(plan, 60, touch=Touch(restrike=wish))
        assert [note.seconds for note in notes if note.key == 60] == times
