import pytest

from engine.chord.numbers import number_of, symbol_of_number
from engine.chord.quality import KNOWN
from engine.chord.symbol import read_symbol
from engine.errors import SymbolError


@pytest.mark.parametrize(
    ("number", "symbol"),
    [("1", "D"), ("6-", "B-"), ("2-7", "E-7"), ("5/7", "A/C#"), ("1/3", "D/F#"), ("b7", "C"),
     ("57", "A7"), ("b79", "C9"), ("16/9", "D6/9"), ("169", "D69"), ("#1o7", "D#o7"),
     ("5sus", "Asus"),
     ("ii7", "Em7"), ("V7", "A7"), ("v7", "Am7"), ("IVmaj7", "Gmaj7"), ("iii7", "F#m7"),
     ("Imaj7", "Dmaj7"), ("IIm7", "Em7"), ("V7/ii", "B7"), ("bIII", "F"), ("I/3", "D/F#"),
     ("VI7", "B7"), ("vi7", "Bm7"), ("iv", "Gm"), ("VIIm7b5", "C#m7b5"), ("V7/vi", "F#7"), ("V7/bVI", "F7"),
     ("imaj7", "Dm(maj7)"), ("6-/1", "B-/D"), ("I6/9", "D6/9"), ("4/b3", "G/F"),
     ("#ivo7", "G#o7"), ("viiø7", "C#ø7")],
)  # fmt: skip
def test_a_number_is_a_chord_of_the_key(number, symbol):
    # Common practice: a bass figure counts in the key, a Roman numeral after the slash makes a secondary dominant.
    assert symbol_of_number(number, "D") == symbol


def test_a_minor_tonic_is_called_one_or_six():
    assert symbol_of_number("1-", "Am", minor_tonic=1) == "A-"
    assert symbol_of_number("6-", "Am", minor_tonic=6) == "A-"


@pytest.mark.parametrize(
    "text", ["Q", "", "8", "0", "1/8", "1/9", "16/8", "I/3x", "I/q", "I6/8", "iV7", "IIII", "ivi", "IIv", "179", "b"]
)
def test_what_is_no_number_is_refused(text):
    with pytest.raises(SymbolError, match="number"):
        symbol_of_number(text, "C")


@pytest.mark.parametrize(("symbol", "number"), [("Em7/D", "2m7/1"), ("F#7", "37"), ("Bb", "b6")])
def test_a_chord_is_shown_by_its_number(symbol, number):
    assert number_of(read_symbol(symbol), "D") == number


@pytest.mark.parametrize("quality", KNOWN)
@pytest.mark.parametrize(("root", "key"), [("F#", "D"), ("Bb", "Am"), ("C", "Eb")])
def test_a_number_written_by_its_degree_reads_as_the_same_chord(root, quality, key):
    chord = read_symbol(root + quality)
    again = read_symbol(symbol_of_number(number_of(chord, key), key))
    assert (again.root, again.tones) == (chord.root, chord.tones)
