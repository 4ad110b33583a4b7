from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.planning.model import Request
from engine.planning.planner import plan
from engine.planning.twelve_keys import SAME_EFFORT, KeyRow, compare_keys, judged
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from engine.theory.key import read_key
from engine.theory.pitch import key_number

SONG = replace(
    song_from_chart("| Fm7 | Bb7 | Ebmaj7 | C7b9 |", key="Eb"), melody=(key_number("Bb3"), key_number("Eb5"))
)
ALTO = (key_number("A3"), key_number("D5"))
REQUEST = Request(method="shell")
TWELVE = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")


def rows(**asked):
    return compare_keys(SONG, REQUEST, plan, unfold, **asked)


def test_twelve_keys_the_own_first_each_once():
    found = rows()
    assert len({key_number(f"{row.key}4") % 12 for row in found}) == len(found) == 12
    assert (found[0].key, found[0].reason.split(":")[0]) == ("Eb", "as written")


def test_no_key_is_absurd():
    assert all(abs(row.signature) <= 6 for row in rows())


def test_a_key_in_which_the_tune_fits_the_singer_says_so():
    found = {row.key: row for row in rows(singer=ALTO)}
    assert found["Eb"].outside == 1
    assert found["D"].outside == 0
    assert found["D"].reason.startswith("down a half step: the tune tops out on D5")


def lying(key, effort=100.0, widest=130.0, **more):
    """Return a key as it lies for hands and singer; `judged` wants no more."""
    row = KeyRow(
        key, 0, read_key(key).signature, effort, widest, muddy=0, melody=None, outside=0, off=0.0, written=()
    )  # fmt: skip
    return replace(row, **more)


def best(*keys):
    return [row.key for row in judged(keys) if row.best]


def test_no_key_is_best_in_which_more_of_the_tune_lies_outside_the_singers_range():
    found = rows(singer=ALTO)
    assert {row.outside for row in found if row.best} == {0}


def test_the_singer_comes_before_the_hands():
    assert best(lying("Eb", effort=80.0, outside=1), lying("D", effort=160.0)) == ["D"]


def test_where_no_key_holds_the_tune_the_best_leaves_least_of_it_outside():
    assert best(lying("C", outside=5), lying("A", outside=3, effort=130.0), lying("Bb", outside=3)) == ["Bb"]


def test_a_sign_fewer_does_not_outweigh_clearly_more_effort():
    assert best(lying("Eb", effort=100.0), lying("Bb", effort=106.0)) == ["Eb"]


def test_between_keys_that_lie_the_same_the_one_with_fewer_signs_is_best():
    assert best(lying("Gb"), lying("G")) == ["G"]


def test_two_per_cent_of_effort_and_three_millimetres_are_no_difference():
    assert best(lying("F", 101.5, 132.0), lying("G", 100.0, 130.0)) == ["F", "G"]
    assert best(lying("F", 101.5, 120.0), lying("G", 100.0, 130.0)) == ["F"]
    assert best(lying("F", 103.0, 120.0), lying("G", 100.0, 130.0)) == ["G"]


def test_of_keys_that_ask_the_same_of_the_hands_the_clear_one_is_best():
    assert best(lying("F", muddy=2), lying("G", effort=101.0, widest=150.0)) == ["G"]


def test_a_key_that_no_hand_can_play_is_never_best():
    assert best(lying("C", effort=None), lying("Gb", effort=300.0, outside=7)) == ["Gb"]
    assert best(lying("C", effort=None), lying("Gb", effort=None)) == []


@given(
    st.lists(
        st.builds(
            lying, st.sampled_from(TWELVE), st.none() | st.floats(50, 70), st.floats(100, 110),
            muddy=st.integers(0, 2), outside=st.integers(0, 2),
        ),
        min_size=1, max_size=12, unique_by=lambda row: row.key,
    )
)  # fmt: skip
def test_where_any_key_can_be_played_some_key_is_best_and_none_is_better_for_the_singer_or_clearly_for_the_hands(keys):
    found = judged(keys)
    assert any(row.best for row in found) == any(row.effort is not None for row in keys)
    for row in (row for row in found if row.best):
        rivals = [other for other in found if other.effort is not None and other.outside <= row.outside]
        assert all(other.outside == row.outside for other in rivals)
        assert row.effort <= SAME_EFFORT * min(other.effort for other in rivals)


def test_at_most_three_keys_of_a_song_are_best():
    assert 1 <= len([row for row in rows() if row.best]) <= 3


def test_horns_read_their_own_keys():
    # Common practice: concert E is F# for a B flat instrument and C# (Db) for an E flat one.
    written = dict({row.key: row for row in rows(horns=("Bb", "Eb"))}["E"].written)
    assert written == {"Bb": "F#", "Eb": "Db"}


def test_the_effort_of_a_key_is_that_of_the_transposed_song():
    from engine.song.transposing import transpose

    found = {row.key: row.effort for row in rows()}
    assert found["G"] == pytest.approx(plan(unfold(transpose(SONG, "G")), REQUEST).effort)


def test_the_range_of_the_tune_moves_with_the_key_in_every_plan():
    # Each key is planned as it is planned once the song stands in it.
    low, high = SONG.melody
    asked = replace(REQUEST, melody=SONG.melody)
    seen = []
    compare_keys(SONG, asked, lambda steps, request: seen.append(request.melody) or plan(steps, request), unfold)
    assert sorted(melody[0] - low for melody in seen) == list(range(-5, 7))
    assert {melody[1] - melody[0] for melody in seen} == {high - low}
