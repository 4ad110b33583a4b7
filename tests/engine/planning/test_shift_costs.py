"""What a shift costs, counted finger by finger as one would at the keyboard."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.chord.symbol import read_symbol
from engine.hand.fingering import FREE
from engine.hand.grip import Grip, finger_places
from engine.planning.hand_states import HandStates, hand_states
from engine.planning.model import Request
from engine.planning.shift_costs import TUNE, shift_terms, shifts
from engine.planning.states import every
from engine.planning.weights import FREE_JUMP, FREE_LEAP, grains
from tests.engine.planning.asking import ask_of


@st.composite
def grips(draw: st.DrawFn) -> Grip:
    """A grip of the right hand: fingers in their order on keys in theirs; none at all is a hand that rests."""
    count = draw(st.integers(0, 5))
    keys = sorted(draw(st.sets(st.integers(48, 72), min_size=count, max_size=count)))
    fingers = sorted(draw(st.permutations(range(1, 6)))[:count])
    return Grip(tuple(keys), tuple(fingers))


def hands(grips: list[Grip], hand: str = "right") -> HandStates:
    """Return some grips as arrays."""
    keys = np.full((5, len(grips)), FREE, dtype=np.int32)
    for number, grip in enumerate(grips):
        keys[[finger - 1 for finger in grip.fingers], number] = grip.keys
    return hand_states(keys, hand)


def terms(before: Grip, after: Grip, role: str = "", sound: str = "piano") -> dict[str, int]:
    """Return the terms of one shift."""
    found = shift_terms(hands([before, after]), role, sound)
    return {term: int(amounts[1]) for term, amounts in found.items()}


@given(grips(), grips(), st.sampled_from(["piano", "pad", "organ"]))
def test_strikes_landings_lifts_and_refingerings_are_counted_by_the_finger(
    before: Grip, after: Grip, sound: str
) -> None:
    was, now = (dict(zip(grip.fingers, grip.keys, strict=True)) for grip in (before, after))
    slides = sum(now[finger] != was[finger] for finger in was.keys() & now.keys())
    handed = sum(key in was.values() and was.get(finger) != key for finger, key in now.items())
    found = terms(before, after, sound=sound)
    assert found["strike"] == grains("strike", 1) * slides
    assert found["landing"] == grains("landing", 1) * len(now.keys() - was.keys())
    assert found["lift"] == grains("lift", 1) * len(was.keys() - now.keys())
    assert found["refinger"] == grains("refinger", 1) * handed
    assert found.get("legato", 0) == slides * grains("legato", {"piano": 0.0, "pad": 0.5, "organ": 1.0}[sound])


@given(grips(), grips())
def test_the_tune_pays_for_leaps_and_for_every_semitone_from_the_nearest_note(before: Grip, after: Grip) -> None:
    found = terms(before, after, TUNE)
    both = bool(before.keys and after.keys)
    leap = max(0, abs(after.keys[-1] - before.keys[-1]) - FREE_LEAP) if both else 0
    near = sum(min(abs(key - other) for other in before.keys) for key in after.keys) if both else 0
    assert found["leap"] == grains("leap", leap)
    assert found["jump"] == grains("jump", max(0, leap - (FREE_JUMP - FREE_LEAP)))
    assert found["voices"] == grains("voices", 1) * near
    assert not {"leap", "voices"} & terms(before, after).keys(), "only the hand on top is heard as a tune"


@given(grips(), st.sampled_from(["left", "right"]))
def test_fingers_are_where_the_hand_has_them_in_half_millimetres(grip: Grip, hand: str) -> None:
    if hand == "left":
        grip = Grip(grip.keys, grip.fingers[::-1])
    at = hands([grip], hand).at[:, 0].tolist()
    if grip.keys:
        # A half millimetre may fall to either side, and a half key does.
        assert at == pytest.approx([2 * place for place in finger_places(grip, hand)], abs=1.0)


@given(grips())
def test_staying_costs_nothing(grip: Grip) -> None:
    assert not any(terms(grip, grip, TUNE, "organ").values())


@given(grips())
def test_a_hand_that_rested_is_anywhere(grip: Grip) -> None:
    assert terms(Grip((), ()), grip)["travel"] == 0


@pytest.mark.parametrize(("semitones", "bits"), [(12, 4.585), (24, 5.585)])
def test_an_arm_that_carries_a_whole_hand_travels_once_by_the_bits_of_its_way(semitones: int, bits: float) -> None:
    # Fitts 1954 as hand/fitts has it: log2 of twice the distance over a key's width.
    chord = Grip((48, 52, 55), (1, 3, 5))
    moved = Grip(tuple(key + semitones for key in chord.keys), chord.fingers)
    assert terms(chord, moved)["travel"] == terms(moved, chord)["travel"] == pytest.approx(1000 * bits, abs=5)


@pytest.mark.parametrize(("hand", "role"), [("left", ""), ("right", TUNE)])
@pytest.mark.parametrize("sound", ["piano", "organ"])
def test_the_matrix_of_all_shifts_says_of_each_what_its_terms_say(hand: str, role: str, sound: str) -> None:
    ask = ask_of(Request())
    before, after = (getattr(every(read_symbol(symbol), ask), hand) for symbol in ("Dm9", "G7b9"))
    matrix, other = shifts([(before, after, changes) for changes in (False, True)], role, sound)
    for one in range(0, len(before), 7):
        for two in range(0, len(after), 5):
            found = shift_terms(hands([before.grip(one), after.grip(two)], hand), role, sound)
            assert matrix[one, two] == sum(int(amounts[1]) for amounts in found.values())
            # A change of texture is paid for once, by the hand on top.
            assert other[one, two] - matrix[one, two] == grains("change", 1) * (role == TUNE)


@given(grips(), grips())
def test_a_hand_pays_for_every_key_more_or_fewer_but_not_for_coming_in(before: Grip, after: Grip) -> None:
    plays = bool(before.keys and after.keys)
    assert terms(before, after)["count"] == grains("count", 1) * abs(len(before.keys) - len(after.keys)) * plays
