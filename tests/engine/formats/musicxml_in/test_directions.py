"""What stands over the measures. Source: MusicXML 4.0 (W3C); the words are common practice."""

from fractions import Fraction
from xml.etree.ElementTree import fromstring

import pytest

from engine.formats.musicxml_in.directions import take_direction, take_sound
from engine.formats.musicxml_in.measure import Measure
from engine.theory.key import read_key
from engine.theory.meter import meter
from tests.engine.formats.scores import DIRECTION, mark, sound, words


def after(*directions: str) -> Measure:
    measure = Measure("1", meter("4/4"), read_key("C"))
    for text in directions:
        element = fromstring(text)
        if element.tag == "sound":
            take_sound(measure, element)
        else:
            take_direction(measure, element, Fraction(2))
    return measure


@pytest.mark.parametrize(
    ("text", "way", "said"),
    [
        ("D.C. al Fine", "jump", "dacapo"), ("Da Capo", "jump", "dacapo"), ("D.S. al Coda", "jump", "dalsegno"),
        ("Dal Segno", "jump", "dalsegno"), ("To Coda", "to_coda", "coda"), ("to the coda", "to_coda", "coda"),
        ("Fine", "fine", True), ("Coda", "coda", "coda"), ("Medium Swing", "swing", True), ("Shuffle", "swing", True),
    ],
)  # fmt: skip
def test_words_say_the_way_and_the_feel(text, way, said):
    assert getattr(after(words(text)), way) == said


def test_other_words_are_kept_on_one_line():
    assert after(words("with\n   brushes")).words == ["with brushes"]


def test_the_first_mark_of_a_measure_names_it():
    assert after(mark("A"), mark("B")).rehearsal == "A"


def test_a_written_silence_stands_where_it_is_written_unless_a_chord_does():
    assert after(words("N.C.")).chords == [(Fraction(2), "N.C.")]
    measure = after()
    measure.chords.append((Fraction(2), "G7"))
    take_direction(measure, fromstring(words("N.C.")), Fraction(2))
    assert measure.chords == [(Fraction(2), "G7")]


@pytest.mark.parametrize(
    ("unit", "figure", "tempo"),
    [
        ("<beat-unit>quarter</beat-unit>", "112", 112.0),
        ("<beat-unit>quarter</beat-unit><beat-unit-dot/>", "c. 60", 90.0),
        ("<beat-unit>half</beat-unit>", "60.5", 121.0),
        ("<beat-unit>half</beat-unit>", "fast", 0.0),
        ("<beat-unit>long</beat-unit>", "60", 0.0),
    ],
)
def test_a_metronome_mark_counts_quarters(unit, figure, tempo):
    sign = f"<metronome>{unit}<per-minute>{figure}</per-minute></metronome>"
    assert after(DIRECTION.format(sign)).tempo == tempo


@pytest.mark.parametrize(("tempo", "found"), [("96", 96.0), ("fast", 0.0), ("2", 0.0), ("5000", 0.0)])
def test_a_tempo_that_nobody_plays_is_none(tempo, found):
    assert after(sound(tempo=tempo)).tempo == found


def test_a_sound_says_the_ways_of_the_form():
    measure = after(sound(segno="s", coda="c", tocoda="c", fine="yes", dalsegno="s"))
    assert (measure.segno, measure.coda, measure.to_coda, measure.fine) == ("s", "c", "c", True)
    assert (measure.jump, measure.target) == ("dalsegno", "s")
    assert after(sound(dacapo="yes")).jump == "dacapo"


@pytest.mark.parametrize(("inside", "swings"), [("<first>2</first><second>1</second>", True), ("<straight/>", False)])
def test_swing_is_swing_unless_it_says_straight(inside, swings):
    assert after(f"<sound><swing>{inside}</swing></sound>").swing is swings


def test_a_sound_inside_a_direction_counts_too():
    text = '<direction><direction-type><segno/></direction-type><sound tempo="84"/></direction>'
    assert (after(text).tempo, after(text).segno) == (84.0, "segno")


@pytest.mark.parametrize(
    ("text", "until"), [("till cue", "cue"), ("vamp until ready", "ready"), ("(till the drums stop)", "the drums stop")]
)
def test_words_say_what_a_vamp_waits_for(text, until):
    found = after(words(text))
    assert (found.until, found.words) == (until, [])


@pytest.mark.parametrize(("text", "swings"), [("swing", True), ("Swing feel", True), ("straight", False)])
def test_a_feel_alone_is_no_remark(text, swings):
    found = after(words(text))
    assert (found.swing, found.words) == (swings, [])


@pytest.mark.parametrize(
    ("text", "comp", "remarks"), [("comp: Bossa", "bossa", []), ("comp: as you like", "", ["comp: as you like"])]
)
def test_a_comping_rhythm_that_has_a_name_is_one(text, comp, remarks):
    found = after(words(text))
    assert (found.comp, found.words) == (comp, remarks)


def test_a_feel_among_other_words_stays_a_remark():
    found = after(words("medium swing"))
    assert (found.swing, found.words) == (True, ["medium swing"])
