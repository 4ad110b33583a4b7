"""Chords of MusicXML as the symbols of charts. Source: MusicXML 4.0 (W3C)."""

import pytest

from engine.chord.symbol import read_symbol
from engine.formats.musicxml_in.harmony import KINDS
from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.song.unfolding import unfold
from tests.engine.formats.scores import attributes, degree, harmony, measure, score


def one(chord: str, first: str | None = None) -> str:
    return unfold(song_from_musicxml(score(measure(chord), first=first)).song)[0].symbol


PUBLISHED = {
    # Kind -> degrees, as the W3C lists them for kind-value.
    "major": "1 3 5", "minor": "1 b3 5", "augmented": "1 3 #5", "diminished": "1 b3 b5", "dominant": "1 3 5 b7",
    "major-seventh": "1 3 5 7", "minor-seventh": "1 b3 5 b7", "diminished-seventh": "1 b3 b5 bb7",
    "augmented-seventh": "1 3 #5 b7", "half-diminished": "1 b3 b5 b7", "major-minor": "1 b3 5 7",
    "major-sixth": "1 3 5 6", "minor-sixth": "1 b3 5 6", "dominant-ninth": "1 3 5 b7 9", "major-ninth": "1 3 5 7 9",
    "minor-ninth": "1 b3 5 b7 9", "dominant-11th": "1 3 5 b7 9 11", "major-11th": "1 3 5 7 9 11",
    "minor-11th": "1 b3 5 b7 9 11", "minor-13th": "1 b3 5 b7 9 11 13", "suspended-second": "1 5 9",
    "suspended-fourth": "1 4 5", "power": "1 5", "pedal": "1",
    # Common practice leaves the eleventh out of major thirteenths.
    "dominant-13th": "1 3 5 b7 9 13", "major-13th": "1 3 5 7 9 13",
}  # fmt: skip


def test_there_are_33_kinds():
    assert len(KINDS) == 33


@pytest.mark.parametrize(("kind", "degrees"), PUBLISHED.items())
def test_a_kind_has_its_published_degrees(kind, degrees):
    assert set(read_symbol(one(harmony("Eb", kind))).degrees) == set(degrees.split())


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in PUBLISHED])
def test_a_kind_that_is_no_chord_of_charts_is_read_with_a_doubt_or_as_silence(kind):
    found = song_from_musicxml(score(measure(harmony("Ab", kind))))
    assert len(unfold(found.song)) == 1
    assert kind == "none" or any("Ab" in doubt for doubt in found.doubts)


@pytest.mark.parametrize(
    ("kind", "changes", "symbol"),
    [
        ("dominant", [(9, -1, "add")], "C7b9"),
        ("dominant", [(5, 1, "alter"), (9, 1, "add")], "C7#5#9"),
        ("dominant-ninth", [(9, -1, "alter")], "C7b9"),
        ("dominant", [(11, 1, "add")], "C7#11"),
        ("major-seventh", [(5, -1, "alter")], "Cmaj7b5"),
        ("major", [(9, 0, "add")], "Cadd9"),
        ("major", [(2, 0, "add")], "Cadd9"),
        ("major", [(7, 1, "add")], "Cmaj7"),
        ("suspended-fourth", [(7, 0, "add")], "C7sus4"),
        ("dominant", [(3, 0, "subtract"), (4, 0, "add")], "C7sus4"),
        ("major-sixth", [(9, 0, "add")], "C6/9"),
        ("dominant", [(5, 0, "subtract")], "C7(no5)"),
        ("minor-seventh", [(5, -1, "alter")], "Cm7b5"),
        ("minor-seventh", [(5, -1, "add")], "Cm7b5"),
        ("dominant", [(13, -1, "add")], "C7b13"),
        ("other", [(3, -1, "add"), (5, 0, "add"), (7, 1, "add")], "Cm(maj7)"),
    ],
)
def test_degrees_are_added_altered_and_left_out(kind, changes, symbol):
    assert one(harmony("C", kind, "".join(degree(*change) for change in changes))) == symbol


@pytest.mark.parametrize(("kind", "symbol"), [("minor-major", "Cm(maj7)"), ("Dominant", "C7"), ("tristan", "Cm7b5")])
def test_a_kind_that_programs_misspell_is_known(kind, symbol):
    assert one(harmony("C", kind)) == symbol


def test_a_kind_that_nobody_knows_is_read_by_its_text_with_a_doubt():
    found = song_from_musicxml(score(measure(harmony("C", "mystery", text="m7b5"))))
    assert (unfold(found.song)[0].symbol, "mystery" in found.doubts[0]) == ("Cm7b5", True)


@pytest.mark.parametrize(
    ("more", "symbol"),
    [
        ("<bass><bass-step>E</bass-step></bass>", "C7/E"),
        ("<bass><bass-step>B</bass-step><bass-alter>-1</bass-alter></bass>", "C7/Bb"),
        ("<inversion>1</inversion>", "C7/E"),
        ("<inversion>2</inversion>", "C7/G"),
        ("<inversion>3</inversion>", "C7/Bb"),
    ],
)
def test_a_bass_is_written_or_counted(more, symbol):
    assert one(harmony("C", "dominant", more)) == symbol


@pytest.mark.parametrize(
    ("chord", "symbol"),
    [
        ("<numeral><numeral-root>5</numeral-root></numeral><kind>dominant</kind>", "Bb7"),
        ("<numeral><numeral-root>2</numeral-root><numeral-alter>-1</numeral-alter></numeral><kind>major</kind>", "Fb"),
        ("<function>ii</function><kind>minor</kind>", "Fm"),
        ("<function>V</function><kind>dominant</kind>", "Bb7"),
        ("<function>ii</function>", "Fm"),
        ("<function>vii</function><kind>other</kind>", "Dm"),
        ("<function>mystery</function><kind>major</kind>", "N.C."),
    ],
)
def test_a_numeral_is_a_chord_of_the_key(chord, symbol):
    assert one(f"<harmony>{chord}</harmony>", attributes(-3)) == symbol


def test_an_altered_dominant_is_known_by_its_text():
    assert one(harmony("G", "dominant", text="7alt")) == "G7alt"
