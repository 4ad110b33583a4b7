from itertools import permutations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.ear.voice_leading import distance, one_to_one, with_doublings

SETS = st.sets(st.integers(0, 11), min_size=1, max_size=4).map(sorted)


def test_c_major_and_e_minor_are_a_semitone_apart():
    assert one_to_one((0, 4, 7), (4, 7, 11)) == 1


def test_a_chord_and_its_tritone_substitute_are_two_semitones_apart():
    assert one_to_one((0, 4, 7, 10), (6, 10, 1, 4)) == 2


def test_notes_that_part_and_meet_can_do_with_less():
    # Cmaj7 to Emaj7: 4 one to one, 3 when E goes both to D# and to E.
    assert one_to_one((0, 4, 7, 11), (4, 8, 11, 3)) == 4
    assert with_doublings((0, 4, 7, 11), (4, 8, 11, 3)) == 3


def test_a_seventh_resolves_to_a_triad_with_two_notes_meeting():
    assert with_doublings((7, 11, 2, 5), (0, 4, 7)) == 4


def test_one_to_one_needs_as_many_notes():
    with pytest.raises(ValueError, match="one to one"):
        one_to_one((0, 4, 7), (0, 4))


def test_to_and_from_silence_nothing_moves():
    assert with_doublings((), (0, 4, 7)) == with_doublings((0, 4, 7), ()) == one_to_one((), ()) == 0


@given(SETS.flatmap(lambda low: st.tuples(st.just(low), st.permutations(range(12)).map(lambda p: p[: len(low)]))))
def test_one_to_one_agrees_with_trying_every_partner(pair):
    low, high = pair
    tried = min(sum(map(distance, low, order)) for order in permutations(high))
    assert one_to_one(low, high) == tried


@given(SETS, SETS)
def test_doublings_agree_with_trying_every_part_and_meeting(low, high):
    # Every note takes a partner of its own choice, and so does every note of the other chord.
    tried = min(
        sum(distance(*pair) for pair in {*zip(low, ahead, strict=True), *zip(back, high, strict=True)})
        for ahead in product(high, repeat=len(low))
        for back in product(low, repeat=len(high))
    ) if len(low) + len(high) <= 6 else None  # fmt: skip
    if tried is not None:
        assert with_doublings(low, high) == tried


@given(SETS, SETS, st.integers(0, 11))
def test_there_and_back_and_in_any_key_the_way_is_as_long(low, high, up):
    size = with_doublings(low, high)
    assert with_doublings(high, low) == size
    assert with_doublings([note + up for note in low], [note + up for note in high]) == size


@given(SETS, SETS)
def test_parting_and_meeting_never_needs_more_than_one_to_one(low, high):
    if len(low) == len(high):
        assert with_doublings(low, high) <= one_to_one(low, high)
