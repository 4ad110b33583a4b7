import pytest

from engine.chord.quality import QUALITIES
from engine.chord.symbol import read_symbol
from engine.formats.musicxml_out.harmony import KINDS, harmony, kind_of, number


@pytest.mark.parametrize(
    ("symbol", "kind", "changes"),
    [
        ("C", "major", []), ("Bbm7b5", "half-diminished", []), ("F#m(maj7)", "major-minor", []),
        ("C7b9", "dominant", [("add", "b9")]), ("C9sus4", "suspended-fourth", [("add", "b7"), ("add", "9")]),
        ("C7#5", "augmented-seventh", []), ("C7b5", "dominant", [("alter", "b5")]), ("Cadd9", "major", [("add", "9")]),
        ("C6/9", "major-sixth", [("add", "9")]), ("Cdim7", "diminished-seventh", []), ("C5", "power", []),
        ("Cmaj7#11", "major-seventh", [("add", "#11")]), ("C13b9", "dominant-13th", [("alter", "b9")]),
    ],
)  # fmt: skip
def test_a_chord_has_the_kind_that_says_most_of_it(symbol, kind, changes):
    chord = read_symbol(symbol)
    assert chord is not None
    assert kind_of(chord.degrees) == (kind, tuple(changes))


@pytest.mark.parametrize("quality", QUALITIES)
def test_kind_and_changes_together_are_the_chord(quality):
    degrees = tuple(QUALITIES[quality].split())
    kind, changes = kind_of(degrees)
    made = set(KINDS[kind].split())
    for way, degree in changes:
        if way != "add":
            made -= {one for one in made if number(one)[0] == number(degree)[0]}
        if way != "subtract":
            made |= {degree}
    assert made == set(degrees)


def test_root_bass_and_the_players_words_are_kept():
    found = harmony("Bbm7b5/Ab", read_symbol("Bbm7b5/Ab"))
    assert (found.findtext("root/root-step"), found.findtext("root/root-alter")) == ("B", "-1")
    assert (found.findtext("bass/bass-step"), found.findtext("bass/bass-alter")) == ("A", "-1")
    assert found.find("kind").get("text") == "m7b5"


def test_no_chord_is_a_kind_of_its_own():
    found = harmony("N.C.", None)
    assert (found.findtext("kind"), found.find("kind").get("text")) == ("none", "N.C.")


@pytest.mark.parametrize(
    ("symbol", "kind", "degrees"),
    [
        ("C7b9", {"text": "7"}, [("9", "-1", "")]),
        ("C7(b9)", {"text": "7", "parentheses-degrees": "yes"}, [("9", "-1", "")]),
        ("CΔ7#11", {"text": "Δ7"}, [("11", "1", "")]), ("C13b9", {"text": "13"}, [("9", "-1", "")]),
        ("Cmadd9", {"text": "m"}, [("9", "0", "add")]), ("C7#5#9", {"text": "7#5"}, [("9", "1", "")]),
    ],
)  # fmt: skip
def test_degrees_that_end_a_symbol_are_printed_after_the_words_of_its_kind(symbol, kind, degrees):
    # MusicXML 4.0, <degree-type>: its text is what is displayed.
    found = harmony(symbol, read_symbol(symbol))
    assert found.find("kind").attrib == kind
    assert [
        (one.findtext("degree-value"), one.findtext("degree-alter"), one.find("degree-type").get("text"))
        for one in found.findall("degree")
    ] == degrees
    assert all(one.get("print-object") is None for one in found.findall("degree"))


def test_six_nine_has_its_slash():
    found = harmony("C6/9", read_symbol("C6/9"))
    assert (found.find("kind").get("text"), found.find("degree/degree-value").get("text")) == ("6", "/9")


@pytest.mark.parametrize("symbol", ["C7sus4", "C9sus4", "C7alt", "C7no5"])
def test_degrees_that_the_words_of_the_kind_tell_are_not_printed_a_second_time(symbol):
    # MusicXML 4.0, <degree>: print-object="no" where the text of the kind takes it into account.
    found = harmony(symbol, read_symbol(symbol))
    assert {degree.get("print-object") for degree in found.findall("degree")} == {"no"}
    assert found.find("kind").get("text") == symbol[1:]
