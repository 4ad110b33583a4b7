"""What the planner is posed: pins held, and what gives way where a chord does not fit the hands."""

from fractions import Fraction

import pytest

from engine.chord.symbol import read_symbol
from engine.errors import NoGrip
from engine.planning.model import PlannedStep
from engine.song.model import Pin


def pin(left: tuple[int, ...] | None, right: tuple[int, ...] | None, *fingers: tuple[int, ...]) -> tuple[Pin, ...]:
    return (Pin("Chart", 2, Fraction(1), left, right, *fingers),)


def keys(step: PlannedStep) -> tuple[tuple[int, ...], tuple[int, ...]]:
    return tuple(note.key for note in step.left), tuple(note.key for note in step.right)


def test_a_pin_holds_with_its_fingers(planned):
    step = planned("Dm7 G7 Cmaj7", pins=pin((43,), (59, 65), (4,), (2, 5))).steps[1]
    assert keys(step) == ((43,), (59, 65))
    assert [note.finger for note in step.left + step.right] == [4, 2, 5]
    assert step.warnings == ()


def test_a_pin_of_one_hand_leaves_the_other_to_the_plan(planned):
    step = planned("Dm7 G7 Cmaj7", pins=pin(None, (59, 65))).steps[1]
    assert keys(step)[1] == (59, 65)
    assert step.left[0].key % 12 == read_symbol("G7").bass.pc


def test_a_hand_may_be_pinned_to_rest(planned):
    assert keys(planned("Dm7 G7 Cmaj7", pins=pin((43, 53), ())).steps[1]) == ((43, 53), ())


@pytest.mark.parametrize(
    "wish", [pin((43, 67), (71, 77)), pin((43,), (59, 65), (4,), (1, 1)), pin(None, (59, 83)), pin((80,), (59,))]
)
def test_a_pin_that_no_hand_can_hold_is_left_out_with_a_warning(planned, wish):
    step = planned("Dm7 G7 Cmaj7", pins=wish).steps[1]
    assert step.keys
    assert "the pin on G7 does not fit the hands" in step.warnings[0]


def test_a_pinned_tenth_that_is_too_wide_is_rolled_where_a_pedal_can_hold_it(planned):
    # Common practice: a tenth beyond the reach is rolled, or left out; an organ cannot hold the low note.
    wish = pin((43, 59), (65,))
    rolled = planned("Dm7 G7 Cmaj7", pins=wish, reach=(175.0, 175.0)).steps[1]
    assert keys(rolled) == ((43, 59), (65,))
    assert "roll the left hand, low note first" in rolled.warnings[0]
    assert planned("Dm7 G7 Cmaj7", pins=wish, reach=(215.0, 215.0)).steps[1].warnings == ()
    assert "does not fit" in planned("Dm7 G7", pins=wish, reach=(175.0, 175.0), sound="organ").steps[1].warnings[0]


def test_a_chord_is_rolled_before_any_of_it_is_left_out(planned):
    (rolled,) = planned("C", hands="left", reach=(90.0, 90.0)).steps
    assert any("roll the left hand" in warning for warning in rolled.warnings)
    assert not any("left out" in warning for warning in rolled.warnings)


def test_a_pin_elsewhere_changes_nothing(planned):
    other = (Pin("Verse", 2, Fraction(1), (43,), (59, 65)),)
    assert planned("Dm7 G7", pins=other).steps == planned("Dm7 G7").steps


def test_where_a_method_has_no_voicing_another_takes_its_place(planned):
    # A power chord has no third, and rootless voicings begin with it.
    step = planned("Dm7 G5 Cmaj7", method="rootless", bass=True).steps[1]
    assert step.keys
    assert step.method != "rootless"
    assert "no even rootless voicing of G5 fits the hands, another texture takes its place" in step.warnings[0]


@pytest.mark.parametrize(
    ("chords", "hands", "reach", "way_out"),
    [
        ("Dm7 C", "left", 80.0, "use both hands, or set a wider reach"),
        ("C Cmaj7", "both", 60.0, "set a wider reach, or write a simpler chord"),
    ],
)
def test_a_chord_that_nothing_fits_rests_and_says_what_to_change(planned, chords, hands, reach, way_out):
    # On an organ, where a chord cannot be rolled.
    one, two = planned(chords, hands=hands, reach=(reach, reach), sound="organ").steps
    assert one.keys
    assert (two.keys, two.method, two.effort >= 0) == ((), "", True)
    assert two.warnings[-1].endswith(way_out)


def test_where_not_one_chord_fits_the_song_has_no_plan(planned):
    with pytest.raises(NoGrip) as raised:
        planned("C", hands="left", reach=(80.0, 80.0), sound="organ")
    assert raised.value.symbol == "C"
    assert raised.value.where == "Chart, bar 1"
    assert "use both hands" in raised.value.hint
