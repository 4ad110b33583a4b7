"""Charts in slashes. Source: MusicXML 4.0 (W3C), <notehead>, <unpitched>, <transpose>; the rest common practice."""

from fractions import Fraction
from pathlib import Path
from xml.etree.ElementTree import Element, fromstring

import pytest

from engine.chord.symbol import read_symbol
from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.formats.musicxml_out.measures import Measure
from engine.formats.musicxml_out.slashes import add_slashes, chart_measures
from engine.formats.musicxml_out.writer import chart_musicxml
from engine.song.model import Song
from engine.song.reader import read_song, song_from_chart
from engine.song.unfolding import unfold
from tests.engine.performance.by_hand import plan_by_hand

SONGS = sorted((Path(__file__).parents[4] / "setlists" / "songs").glob("*.toml"))
FORM = """title = "Pier"
key = "C"
meter = "4/4"
tempo = 90
roadmap = "A x3, B x2, A"
[sections.A]
bars = "| C | F G(hold) |"
[sections.B]
bars = "||: Am | F :|| x3"
"""


def chart(song: Song, horn: str = "Bb") -> Element:
    return fromstring(chart_musicxml(song.title, [song], horn).split(b"?>", 1)[1])


def slashes(bars: str, meter: str = "4/4") -> list[list[tuple[str, str]]]:
    """The note values of each measure, with what is drawn: slash, stemmed slash or rest."""
    found = []
    for measure in chart(song_from_chart(bars, meter=meter)).iter("measure"):
        values = []
        for note in measure.iter("note"):
            kind = "rest" if note.find("rest") is not None else note.findtext("notehead")
            stem = "" if note.findtext("stem") == "none" or kind == "rest" else "stemmed "
            values.append((note.findtext("type") + "." * len(note.findall("dot")), stem + kind))
        found.append(values)
    return found


@pytest.mark.parametrize(
    ("meter", "values"),
    [("4/4", ["quarter"] * 4), ("3/4", ["quarter"] * 3), ("2/2", ["half"] * 2), ("6/8", ["quarter."] * 2),
     ("12/8", ["quarter."] * 4), ("7/8", ["eighth"] * 7)],
)  # fmt: skip
def test_each_beat_has_a_slash_without_a_stem(meter, values):
    assert slashes("| C |", meter) == [[(value, "slash") for value in values]]


def test_a_chord_within_a_beat_parts_its_slash_in_two_with_stems():
    chord = {"chord": read_symbol("C")}
    steps = plan_by_hand((Fraction(3, 2), (), (), chord), (Fraction(5, 2), (), (), chord)).steps
    element = Element("measure")
    add_slashes(element, Measure(steps), 2)
    notes = list(element.iter("note"))
    assert [note.findtext("type") for note in notes] == ["quarter", "eighth", "eighth", "quarter", "quarter"]
    assert [note.find("stem") is None for note in notes] == [False, True, True, False, False]
    assert [item.tag for item in element][:4] == ["harmony", "note", "note", "harmony"]


def test_where_nobody_plays_is_a_rest():
    assert slashes("| C N.C. |") == [[("quarter", "slash"), ("quarter", "slash"), ("half", "rest")]]


def test_a_slash_has_no_pitch_and_marks_are_signs_at_the_last_one_of_a_chord():
    score = chart(song_from_chart("| C(hold) F(stop) | G(ring) |"))
    notes = list(score.iter("note"))
    assert all(note.find("pitch") is None for note in notes)
    signs = ["fermata", "articulations/caesura", "tied"]
    places = [[at for at, note in enumerate(notes) if note.find(f"notations/{sign}") is not None] for sign in signs]
    assert places == [[1], [3], [7]]


def test_what_the_roadmap_plays_several_times_running_is_a_repeat():
    song = read_song(FORM, "")
    found = chart_measures(song)
    assert [measure.steps[0].step.section for measure in found] == list("AABBBBAA")
    assert [(measure.repeat, measure.times) for measure in found] == [
        (True, 0), (False, 3), (True, 0), (False, 3), (True, 0), (False, 3), (False, 0), (False, 0)
    ]  # fmt: skip
    words = [one.text for one in chart(song).iter("words")]
    assert words == ["3× in all"] * 3


@pytest.mark.parametrize(
    ("key", "horn", "fifths", "move"),
    [
        # An instrument in Bb sounds a major second lower, one in Eb a major sixth, one in F a fifth (common practice).
        ("Eb", "Bb", -1, ("-1", "-2")), ("Eb", "Eb", 0, ("-5", "-9")), ("Eb", "F", -2, ("-4", "-7")),
        # B for Bb horns would be C#, seven sharps: Db is written, a diminished third above.
        ("B", "Bb", -5, ("-2", "-2")),
    ],
)  # fmt: skip
def test_a_part_says_what_it_reads_and_how_far_below_it_sounds(key, horn, fifths, move):
    score = chart(song_from_chart(f"| {key} |", key=key), horn)
    assert score.findtext(".//key/fifths") == str(fifths)
    assert (score.findtext(".//transpose/diatonic"), score.findtext(".//transpose/chromatic")) == move
    assert score.findtext(".//part-name") == f"in {horn.replace('b', '♭')}"


def test_a_chart_as_it_sounds_tells_no_interval():
    score = chart(song_from_chart("| Eb |", key="Eb"), "C")
    assert (score.findtext(".//key/fifths"), score.find(".//transpose"), score.findtext(".//part-name")) == (
        "-3",
        None,
        "in C",
    )


@pytest.mark.parametrize("horn", ["Bb", "Eb"])
@pytest.mark.parametrize("file", SONGS, ids=[file.stem for file in SONGS])
def test_a_horns_chart_read_again_is_the_song_as_it_sounds(file, horn):
    song = read_song(file.read_text(encoding="utf-8"), file.name)
    again = song_from_musicxml(chart_musicxml(song.title, [song], horn)).song

    def heard(one: Song) -> list[object]:
        return [
            (step.chord and (step.chord.root.pc, step.chord.degrees, step.chord.bass.pc), step.beats, step.mark)
            for step in unfold(one)
        ]

    assert heard(again) == heard(song)
    assert (again.key, again.meter, again.tempo, again.feel) == (song.key, song.meter, song.tempo, song.feel)
