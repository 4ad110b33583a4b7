"""Left hands that play a pattern, planned with the song. Where nothing else is named the source is common practice."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.chord.symbol import read_symbol
from engine.comp_names import LEFT_HAND_NAMES
from engine.hand.fingering import FREE, fingerings
from engine.hand.grip import LEFT, Grip
from engine.hand.keyboard import span
from engine.planning.hand_states import states_of_grips
from engine.planning.left_hand.slots import Pattern
from engine.planning.left_hand.ways import ways
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.planning.shift_costs import PATTERN, weighed
from engine.planning.weights import GRAIN, WEIGHTS
from engine.song.reader import song_from_chart
from engine.song.transposing import transpose
from engine.song.unfolding import unfold

TWO_FIVES = "| Dm7 | G7 | Cmaj7 | A7 | Dm7 G7 | C6 |"


def planned(name, bars=TWO_FIVES, meter="4/4", **asked):
    song = replace(song_from_chart(bars, meter=meter), left_hand=name)
    return plan(unfold(song), Request(**asked))


def line(step):
    """The lowest key of each stroke."""
    return [stroke.notes[0].key for stroke in step.strokes]


@pytest.mark.parametrize("name", LEFT_HAND_NAMES)
@pytest.mark.parametrize("meter", ["4/4", "3/4", "6/8", "5/4"])
def test_every_chord_has_its_pattern_from_its_bass_up(name, meter):
    for step in planned(name, "| Dm7 | G7/B | Cmaj7 | F#m7b5 | B7alt | Em |", meter).steps:
        assert step.strokes
        assert line(step)[0] % 12 == step.step.chord.bass.pc


@pytest.mark.parametrize("name", LEFT_HAND_NAMES)
def test_the_terms_of_the_steps_add_up_to_the_songs_effort(name):
    found = planned(name)
    assert sum(step.effort for step in found.steps) == pytest.approx(found.effort)
    assert all(sum(amount for _, amount in step.terms) == pytest.approx(step.effort) for step in found.steps)


@pytest.mark.parametrize("name", LEFT_HAND_NAMES)
@pytest.mark.parametrize("reach", [140.0, 170.0, 200.0, 230.0])
def test_no_position_is_wider_than_the_hand_reaches(name, reach):
    for step in planned(name, reach=(reach, 200.0)).steps:
        for stroke in step.strokes:
            assert span(stroke.hand[0].key, stroke.hand[-1].key) <= reach
            under = {(note.key, note.finger) for note in stroke.hand}
            assert {(note.key, note.finger) for note in stroke.notes} <= under


def test_a_hand_that_reaches_a_tenth_stays_and_one_that_does_not_pays_for_the_jump():
    wide, narrow = (planned("1-5-10", "| C | F |", reach=(reach, 200.0)).steps[0] for reach in (230.0, 180.0))
    assert len({stroke.hand for stroke in narrow.strokes}) > 1
    assert dict(narrow.terms)["pattern"] > 0
    assert [note.finger for stroke in wide.strokes for note in stroke.notes] == [5, 2, 1, 2]
    assert "pattern" not in dict(wide.terms)


def test_an_octave_is_struck_with_fifth_finger_and_thumb():
    first = planned("octaves").steps[0].strokes[0]
    assert [note.finger for note in first.notes] == [5, 1]
    assert first.notes[1].key - first.notes[0].key == 12


def test_a_stride_costs_more_than_root_and_fifth():
    assert planned("stride").effort > 2 * planned("root and fifth").effort


def test_a_stride_takes_its_chord_with_the_same_fingers_again():
    # The last chord is held on its bass.
    for step in planned("stride").steps[:-1]:
        chords = {tuple((note.key, note.finger) for note in one.notes) for one in step.strokes if len(one.notes) > 1}
        assert len(chords) == 1


@pytest.mark.parametrize("bars", [TWO_FIVES, "| C7 | F7 | C7 | % | F7 | % | C7 | A7 | Dm7 | G7 | C7 A7 | Dm7 G7 |"])
def test_a_walking_line_arrives_at_every_next_bass_by_a_half_or_a_whole_step(bars):
    for one, two in pairwise(planned("walking", bars).steps):
        assert 1 <= abs(line(one)[-1] - line(two)[0]) <= 2


def test_a_walking_line_never_stands_still_and_has_chord_tones_on_the_strong_beats():
    for step in planned("walking", "| C7 | F7 | Bb7 | Eb7 | Ab7 | Db7 |").steps[:-1]:
        assert all(0 < abs(one - two) <= 12 for one, two in pairwise(line(step)))
        assert line(step)[2] % 12 in {tone.pc for tone in step.step.chord.tones}


@pytest.mark.parametrize("name", LEFT_HAND_NAMES)
def test_nothing_of_the_left_hand_meets_the_right(name):
    for step in planned(name).steps:
        assert max(note.key for one in step.strokes for note in one.hand) < min(note.key for note in step.right)


@pytest.mark.parametrize(("asked", "why"), [({"bass": True}, "bass player"), ({"hands": "right"}, "right hand")])
def test_without_a_free_left_hand_the_chord_is_held_and_the_plan_says_why(asked, why):
    steps = planned("stride", **asked).steps
    assert not any(step.strokes for step in steps)
    assert "left_hand = stride" in steps[0].warnings[0]
    assert why in steps[0].warnings[0]


def test_a_left_hand_alone_plays_its_pattern_under_the_tune():
    assert all(step.strokes and not step.right for step in planned("walking", hands="left").steps)


def test_where_a_keyboard_is_too_short_for_a_pattern_the_chord_is_held():
    steps = planned("stride", floor=53).steps
    assert all(step.keys for step in steps)
    assert any("does not fit the left hand" in warning for step in steps for warning in step.warnings)


SEMITONES = st.integers(-5, 6)


@settings(max_examples=12, deadline=None)
@given(st.sampled_from(("root and fifth", "octaves", "1-5-8", "1-5-10")), SEMITONES)
def test_transposing_a_song_keeps_the_degrees_of_every_stroke(name, by):
    keys = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
    song = replace(song_from_chart("| Dm7 | G7 | Cmaj7 | Am7b5 D7 |"), left_hand=name)
    plans = [plan(unfold(one)) for one in (song, transpose(song, keys[by % 12]))]
    for one, two in zip(*(found.steps for found in plans), strict=True):
        said = [[[note.degree for note in stroke.notes] for stroke in step.strokes] for step in (one, two)]
        assert said[0] == said[1]


def test_a_loop_leads_back_to_its_first_bass():
    steps = planned("walking", "| C6 | A7 | Dm7 | G7 |", loop=True).steps
    assert len(steps[-1].strokes) == 4
    assert abs(line(steps[-1])[-1] - line(steps[0])[0]) <= 2


def test_a_last_chord_is_held_by_every_pattern():
    for name in LEFT_HAND_NAMES:
        assert planned(name).steps[-1].strokes[-1].until == 4


def test_inside_a_pattern_no_other_fingers_are_cheaper_between_the_same_ends():
    chord = read_symbol("G7")
    found = ways(row(43), [chord], Pattern("stride", ("1", "chord", "5", "chord")), 200.0, 28)
    assert found.figures
    for figure in found.figures:
        middle = figure.strokes[2]
        others = fingerings(row(*middle[0]), "left", 200.0)
        lying = np.rint(others.points * WEIGHTS["grip"].value * GRAIN)
        grips = [Grip(middle[0], (int(np.flatnonzero(under == middle[0][0])[0]) + 1,)) for under in others.under]
        costs = [between(figure.strokes[1][1], grip) + between(grip, figure.last) for grip in grips]
        chosen = grips.index(middle[1])
        totals = [cost + int(points) for cost, points in zip(costs, lying, strict=True)]
        assert totals[chosen] == min(totals)


def row(*keys):
    return np.array([[*keys, *[FREE] * (5 - len(keys))]], dtype=np.int32)


def between(one, two):
    """Grains of the shift from grip to grip."""
    states = states_of_grips([one, two], LEFT)
    return int(weighed(states, np.array([0]), np.array([1]), PATTERN, "piano")[0])
