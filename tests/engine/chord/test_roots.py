import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.chord.house_rules import HouseRules
from engine.chord.roots import read_root, spell_root
from engine.song.transposing import PLAIN
from engine.theory.pitch import NoteName, note_name

NAMES = ("english", "german", "solfege")


@pytest.mark.parametrize("names", NAMES)
@given(st.integers(PLAIN[0], PLAIN[-1]))
def test_a_root_written_by_a_charts_rules_is_read_by_them(names: str, fifths: int) -> None:
    rules = HouseRules(names=names, lower_minor=True)
    for lower in (False, True):
        text = spell_root(NoteName(fifths), rules, lower)
        found = read_root(text, rules)
        assert found is not None, text
        assert found == (NoteName(fifths), len(text), lower), text


@pytest.mark.parametrize(
    ("name", "german"),
    [("B", "H"), ("Bb", "B"), ("Eb", "Es"), ("Ab", "As"), ("Db", "Des"), ("F#", "Fis"), ("C", "C")],
)
def test_roots_are_written_the_german_way(name: str, german: str) -> None:
    # Common practice.
    assert spell_root(note_name(name), HouseRules(names="german")) == german


@pytest.mark.parametrize(
    ("syllable", "name"),
    [("Do", "C"), ("Re", "D"), ("Ré", "D"), ("Mib", "Eb"), ("Fa#", "F#"), ("Sol", "G"), ("La", "A"), ("Sib", "Bb")],
)
def test_roots_are_read_in_syllables(syllable: str, name: str) -> None:
    # Common practice: fixed do.
    assert read_root(syllable, HouseRules(names="solfege")) == (note_name(name), len(syllable), False)
