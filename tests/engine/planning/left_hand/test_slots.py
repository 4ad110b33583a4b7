"""When a left hand's patterns strike. Where nothing else is named the source is common practice."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.comp_names import LEFT_HAND_NAMES
from engine.planning.left_hand.slots import ROWS, slots_of
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold

PATTERNS = st.sampled_from(LEFT_HAND_NAMES)
METERS = st.sampled_from(["4/4", "3/4", "2/4", "5/4", "6/8", "9/8", "12/8", "7/8", "5/8", "2/2", "3/2", "3/8"])


def first_step(name: str, meter: str = "4/4", bars: str = "| C | F |"):
    return replace(unfold(song_from_chart(bars, meter=meter))[0], left_hand=name)


def told(name: str, meter: str = "4/4", bars: str = "| C | F |") -> list[tuple[str, float]]:
    return [(slot.tone, float(slot.place)) for slot in slots_of(first_step(name, meter, bars))]


def test_every_pattern_that_a_file_may_name_is_there():
    assert set(ROWS) == set(LEFT_HAND_NAMES)


def test_root_and_fifth_come_on_one_and_three():
    assert told("root and fifth") == [("1", 0.0), ("5", 2.0)]


def test_a_stride_has_its_bass_on_one_and_three_and_its_chord_on_two_and_four():
    assert told("stride") == [("1", 0.0), ("chord", 1.0), ("5", 2.0), ("chord", 3.0)]


def test_a_waltz_has_its_bass_on_one_and_two_chords():
    assert told("stride", "3/4") == [("1", 0.0), ("chord", 1.0), ("chord", 2.0)]


def test_in_six_eight_the_bass_is_on_each_beat_and_the_chord_on_its_last_eighth():
    slots = slots_of(first_step("stride", "6/8"))
    assert [slot.tone for slot in slots] == ["1", "chord", "5", "chord"]
    assert [slot.place for slot in slots] == [0, Fraction(2, 3), 1, Fraction(5, 3)]


def test_five_four_is_three_and_two():
    assert told("root and fifth", "5/4") == [("1", 0.0), ("5", 3.0)]


def test_a_walking_line_has_a_note_on_every_beat_and_leads_on_the_last():
    assert [tone for tone, _ in told("walking")] == ["1", "walk", "walk", "lead"]


def test_a_chord_of_two_beats_has_the_beginning_of_the_pattern():
    assert told("walking", bars="| C F |") == [("1", 0.0), ("lead", 1.0)]
    assert told("root and fifth", bars="| C F |") == [("1", 0.0)]


def test_a_hand_that_reaches_no_octave_breaks_it():
    broken = slots_of(first_step("octaves"), reached=False)
    assert [(slot.tone, slot.place) for slot in broken] == [("1", 0), ("8", 1), ("1", 2), ("8", 3)]


def test_the_last_chord_is_held():
    for name in LEFT_HAND_NAMES:
        slots = slots_of(first_step(name), last=True)
        assert slots[-1].place <= 1
        assert slots[-1].until == 4


@pytest.mark.parametrize("mark", ["stop", "hold", "ring"])
def test_a_chord_that_is_struck_once_has_only_its_bass(mark):
    assert [slot.tone for slot in slots_of(first_step("stride", bars=f"| C({mark}) | F |"))] == ["1"]


@given(PATTERNS, METERS, st.booleans())
def test_every_pattern_begins_with_the_bass_and_fills_every_chord(name, meter, reached):
    slots = slots_of(first_step(name, meter), reached=reached)
    assert slots[0].place == 0
    assert slots[0].tone in ("1", "1+8")
    assert all(one.until == two.place for one, two in pairwise(slots))
    assert all(slot.place < slot.until for slot in slots)


@given(PATTERNS, st.integers(1, 7))
def test_a_chord_that_begins_off_the_beat_goes_on_with_the_beats(name, eighths):
    step = replace(first_step(name), beat=1 + Fraction(eighths, 2), beats=Fraction(8 - eighths, 2))
    slots = slots_of(step)
    assert slots[0].place == Fraction(eighths, 2)
    assert slots[-1].until == 4
