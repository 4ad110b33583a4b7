"""What the plan says of a clash with the tune that it could not avoid. Source of what rubs: common practice."""

import pytest

from engine.chord.symbol import read_symbol
from engine.planning.tune_clashes import clash_words
from engine.theory.pitch import key_number


def words(symbol, keys, tune):
    return clash_words(read_symbol(symbol), *(tuple(map(key_number, names.split())) for names in (keys, tune)))


@pytest.mark.parametrize(
    ("symbol", "keys", "tune", "said"),
    [
        ("G7", "D3 F3 G3 B3", "G3", "B3 lies above the tune's G3"),
        ("G7", "G2 F3 B3 D4", "G3", "B3 and D4 lie above the tune's G3"),
        ("Cmaj7", "C3 E3 B3", "C4", "B3, the 7, is a half step under the tune's C4: leave it out while that is held"),
        ("Cmaj7", "C3 B3 E4", "C5", "B3, the 7, is a minor ninth under the tune's C5: leave it out while that is held"),
    ],
)
def test_a_clash_is_said_by_its_notes(symbol, keys, tune, said):
    assert said in words(symbol, keys, tune)


@pytest.mark.parametrize(
    ("symbol", "keys", "tune"),
    [
        ("G7", "G2 F3 B3", "D5"),
        # A bass voice under the hands is crossed by nothing, and a note on the tune's own key only doubles it.
        ("G7", "F3 B3 D4", "D3"),
        ("G7", "G2 F3 B3", "B3"),
        ("G7", "G2 F3 B3", ""),
        ("G7", "", "B3"),
    ],
)
def test_where_nothing_clashes_nothing_is_said(symbol, keys, tune):
    assert words(symbol, keys, tune) == ()
