"""Common practice throughout: what says a chord is its third and seventh, and no note foreign to it."""

import pytest

from engine.chord.symbol import read_symbol
from engine.voicing.own import says


@pytest.mark.parametrize(
    ("symbol", "keys", "told"),
    [
        ("Dm7", (53, 60), True),
        ("Dm7", (50, 53, 60, 64), True),  # with the ninth
        ("Dm7", (50, 54, 60), False),  # a major third
        ("Dm7", (50, 57), False),  # neither third nor seventh
        ("G7", (53, 59, 64), True),  # with the thirteenth
        ("G7", (53, 59, 68), True),  # with a flat ninth, as on the way to a minor chord
        ("G7", (53, 59, 68, 69), False),  # flat and natural ninth together
        ("Cmaj7", (52, 59, 65), False),  # the fourth
        ("Cmaj7", tuple(range(48, 63)), False),  # a cluster
        ("C", (52, 55, 60), True),
        ("C", (52, 55), False),  # a triad owes its root
    ],
)
def test_a_voicing_of_ones_own_says_the_chord_or_does_not(symbol: str, keys: tuple[int, ...], told: bool) -> None:
    chord = read_symbol(symbol)
    assert chord is not None
    assert says(chord, frozenset(keys)) is told


def test_where_the_bass_is_the_players_it_lies_lowest() -> None:
    chord = read_symbol("Dm7")
    assert chord is not None
    assert says(chord, frozenset((53, 60)))
    assert not says(chord, frozenset((53, 60)), bass_wanted=True)
    assert says(chord, frozenset((38, 53, 60)), bass_wanted=True)
