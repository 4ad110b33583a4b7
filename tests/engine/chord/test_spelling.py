"""How the tones of a chord are named."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.chord.model import DEGREE_FIFTHS
from engine.chord.spelling import spelled_tones
from engine.chord.symbol import read_symbol
from engine.theory.pitch import NoteName


@pytest.mark.parametrize(
    ("symbol", "names"),
    [("A7#9", "A C# E G C"), ("E7#9", "E G# B D G"), ("C7#9", "C E G Bb D#"), ("E7#5", "E G# C D"),
     ("Cdim7", "C Eb Gb A"), ("Aaug", "A C# E#"), ("C#maj7", "C# E# G# B#"), ("Bb7b9", "Bb D F Ab Cb"),
     ("Db7b9", "Db F Ab Cb D"), ("B7alt", "B D# F G A C D")],
)  # fmt: skip
def test_tones_have_the_names_a_reader_expects(symbol, names):
    """Common practice of lead sheets: an altered dominant's C natural is no B sharp, nothing is doubly sharp."""
    assert " ".join(str(tone.name) for tone in read_symbol(symbol).tones) == names


@given(root=st.integers(-8, 12), degrees=st.lists(st.sampled_from(sorted(DEGREE_FIFTHS)), unique=True).map(tuple))
def test_every_tone_sounds_as_its_degree_and_has_at_most_one_sign(root, degrees):
    for tone in spelled_tones(NoteName(root), degrees):
        assert tone.pc == NoteName(root).up(DEGREE_FIFTHS[tone.degree]).pc
        assert abs(tone.name.accidental) <= 1
