import pytest

from engine.chord.symbol import read_symbol
from engine.voicing.tones import degree_of, demands, owed, plain_fifth, sounding_third, tension_sets


def degrees(tones):
    return tuple(tone.degree for tone in tones)


@pytest.mark.parametrize(
    ("symbol", "choices"),
    [
        ("C7", [()]),
        ("C9", [("9",)]),
        ("C13", [("9", "13"), ("13",)]),
        ("C7#9", [("#9",)]),
        ("C7alt", [("b9", "b5"), ("b9", "#5"), ("#9", "b5"), ("#9", "#5")]),
    ],
)
def test_what_the_symbol_asks_for_is_owed_and_a_thirteenth_may_go_without_its_ninth(symbol, choices):
    assert [degrees(choice) for choice in tension_sets(read_symbol(symbol))] == choices


@pytest.mark.parametrize(
    ("symbol", "pcs", "told"),
    [
        ("Dm7", {2, 5, 0}, True),
        ("Dm7", {2, 5, 9}, False),
        ("Dm7b5", {2, 5, 0}, False),
        ("C6", {0, 4, 9}, False),
        ("C6", {0, 4, 7, 9}, True),
        ("Gsus4", {7, 0}, False),
        ("Gsus4", {7, 0, 2}, True),
        ("C/G", {0, 4}, False),
        ("C9", {0, 4, 10}, False),
        ("C11", {0, 10, 2, 5}, True),
    ],
)
def test_third_seventh_altered_fifth_and_asked_tensions_are_owed_and_the_perfect_fifth_is_not(symbol, pcs, told):
    chord = read_symbol(symbol)
    keys = tuple(sorted(48 + (pc - chord.root.pc) % 12 + chord.root.pc for pc in pcs))
    assert demands(chord).met(keys, owes_bass=False) is told


def test_a_written_bass_is_owed_at_the_bottom():
    wanted = demands(read_symbol("C/E"))
    assert wanted.met((40, 48, 55), owes_bass=True)
    assert not wanted.met((36, 52, 55), owes_bass=True)


@pytest.mark.parametrize(
    ("symbol", "pc", "degree"), [("Dm7", 4, "9"), ("G7", 4, "13"), ("C", 2, "9"), ("C/Bb", 10, "b7")]
)
def test_an_added_note_is_named_from_the_root(symbol, pc, degree):
    assert degree_of(read_symbol(symbol), pc).degree == degree


def test_a_flat_thirteenth_takes_the_fifths_place():
    # Common practice: a semitone apart, the two are not sounded together.
    for symbol in ("A7b13", "E7b13/G#"):
        chord = read_symbol(symbol)
        assert plain_fifth(chord) is None
        assert "5" not in {tone.degree for tone in owed(chord)}
    assert plain_fifth(read_symbol("A7")) is not None


def test_an_eleventh_goes_without_its_third_and_a_triad_with_an_added_one_keeps_it():
    assert sounding_third(read_symbol("G11")) is None
    assert sounding_third(read_symbol("Gadd11")).degree == "3"
    assert sounding_third(read_symbol("Gm11")).degree == "b3"


def test_an_eleventh_without_its_third_does_not_owe_its_root():
    # Beside a bass player, who has it.
    assert "1" not in {tone.degree for tone in owed(read_symbol("G11"))}
