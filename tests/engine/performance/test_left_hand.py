"""A left hand's pattern in time. Where nothing else is named the source is common practice."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.comp_names import COMP_NAMES, LEFT_HAND_NAMES
from engine.performance.play_along import Ride, play_along
from engine.performance.rendering import hand_notes
from engine.performance.sound_settings import SUSTAIN, Touch
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold

BARS = "| Dm7 | G7 | Cmaj7 A7 | Dm7 |"


def played(name, bars=BARS, meter="4/4", feel="straight", comp=""):
    """Return the plan and the notes of the left and of the right hand, one beat a second."""
    song = replace(song_from_chart(bars, meter=meter, tempo=60), left_hand=name, comp=comp)
    found = plan(unfold(song))
    return found, *(hand_notes(found, hand, 60, feel) for hand in ("left", "right"))


def starts(notes):
    return [round(note.seconds, 3) for note in notes]


def test_a_stride_strikes_bass_and_chord_in_turn_on_every_beat():
    _, left, _ = played("stride", "| Dm7 | G7 |")
    assert sorted(set(starts(left))) == [0, 1, 2, 3, 4]
    assert [sum(note.seconds == at for note in left) for at in range(4)] == [1, 2, 1, 2]


def test_the_right_hand_keeps_its_rhythm_over_the_pattern():
    _, left, right = played("root and fifth", "| Dm7 | G7 |", comp="charleston")
    assert starts(left)[:2] == [0, 2]
    assert sorted(set(starts(right)))[:3] == [0, 1.5, 4]


def test_without_a_rhythm_the_right_hand_holds_its_chord_over_the_pattern():
    _, _, right = played("walking", "| Dm7 | G7 |")
    assert min(note.lasts for note in right if note.seconds == 0) == 4


def test_eighths_are_swung_by_the_feel():
    _, left, _ = played("1-5-8", "| Dm7 G7 | C |", feel="swing")
    assert starts(left)[:3] == [0, pytest.approx(2 / 3, abs=0.001), 1]


def test_a_pushed_chord_brings_its_bass_early_and_cuts_what_leads_to_it():
    _, left, _ = played("walking", "| Dm7 | G7(push) | C |")
    assert starts(left)[:6] == [0, 1, 2, 3, 3.5, 5]
    assert left[3].lasts == pytest.approx(0.5)


def test_a_stopped_chord_is_one_short_bass_note():
    _, left, _ = played("stride", "| Dm7 | G7(stop) | C |")
    inside = [note for note in left if 4 <= note.seconds < 8]
    assert [(note.seconds, note.lasts) for note in inside] == [(4, 0.5)]


def test_a_broken_octave_rings_while_the_hand_stays_over_it():
    _, left, _ = played("1-5-8", "| C | F |")
    assert [(note.seconds, note.lasts) for note in left[:3]] == [(0, 4), (1, 3), (2, 2)]


def test_the_last_chord_is_held_to_its_end():
    for name in LEFT_HAND_NAMES:
        _, left, _ = played(name)
        assert max(note.ends for note in left) == pytest.approx(16)
        assert len([note for note in left if note.seconds >= 12]) <= 3


def test_no_pedal_blurs_a_pattern():
    song = replace(song_from_chart(BARS), left_hand="walking")
    messages = play_along(song, plan(unfold(song)), Ride(touch=Touch(pedal=True))).messages
    assert not [data for _, data in messages if data[0] & 0xF0 == 0xB0 and data[1] == SUSTAIN]


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(LEFT_HAND_NAMES),
    st.sampled_from(["", *COMP_NAMES]),
    st.sampled_from(["4/4", "3/4", "6/8"]),
    st.sampled_from(["straight", "swing"]),
    st.sampled_from(["", "(push)", "(stop)", "(hold)"]),
)
def test_the_left_hand_plays_what_is_planned_and_nothing_lasts_into_the_next_chord(name, comp, meter, feel, mark):
    found, left, _ = played(name, f"| Dm7 | G7{mark} | Cmaj7 | Dm7 |", meter, feel, comp)
    begins = 0.0
    for step, following in zip(found.steps, [*found.steps[1:], None], strict=True):
        ends = begins + float(step.step.beats)
        early = float(step.step.meter.push(feel)) if step.step.mark == "push" else 0.0
        next_early = float(step.step.meter.push(feel)) if following and following.step.mark == "push" else 0.0
        own = [note for note in left if begins - early - 1e-6 <= note.seconds < ends - next_early - 1e-6]
        planned = [note.key for stroke in step.strokes for note in stroke.notes]
        assert own
        assert [note.key for note in own] == planned[: len(own)]
        assert all(note.ends <= ends - next_early + 1e-6 for note in own)
        begins = ends
