from fractions import Fraction
from itertools import accumulate
from xml.etree.ElementTree import fromstring

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.formats.musicxml_out.writer import musicxml
from engine.planning.model import Plan
from engine.planning.planner import plan
from engine.song.model import Song
from engine.song.reader import read_song, song_from_chart
from engine.song.unfolding import unfold
from tests.engine.formats import two_lamps

TEXT = (
    two_lamps.TEXT.replace("Two Lamps", "Two Lamps & <Three>")
    .replace("| Bb7 ||", "| (3/4) Bb7 ||")
    .partition("[sections.Tag]")[0]
    + """
[sections.Tag]
key = "F"
pickup = 1
bars = "| C7 | Fmaj7 Gm7 Am7 N.C. | F6/A(hold) ||"
"""
)
"""The song of the sheets with signs that XML minds, a change of meter, another key and a pickup."""


@pytest.fixture(scope="module")
def song() -> Song:
    return read_song(TEXT, "")


@pytest.fixture(scope="module")
def planned(song: Song) -> Plan:
    return plan(unfold(song))


@pytest.fixture(scope="module")
def score(song: Song, planned: Plan):
    return fromstring(musicxml(song, planned).split(b"?>", 1)[1])


def sounding(song: Song) -> list[tuple[str, Fraction, object]]:
    """Return the chords as they sound: key, start in beats, root with degrees and bass; one that goes on is one."""
    steps = unfold(song)
    found: list[tuple[str, Fraction, object]] = []
    starts = accumulate((step.beats for step in steps), initial=Fraction(0))
    for start, step in zip(starts, steps, strict=False):
        chord = step.chord and (step.chord.root, frozenset(step.chord.degrees), step.chord.bass)
        if not found or found[-1][2] != chord:
            found.append((step.key, start, chord))
    return found


def test_sections_are_marked_in_the_order_of_the_roadmap(score):
    assert [mark.text for mark in score.iter("rehearsal")] == ["Intro", "Verse", "Verse", "Tag"]


def test_a_repeat_played_alike_stays_a_repeat_with_its_endings(score):
    verse = score.findall(".//repeat")
    assert [sign.get("direction") for sign in verse] == ["forward", "backward"] * 2
    assert {ending.get("number") for ending in score.iter("ending")} == {"1", "2"}


def test_both_hands_last_the_whole_measure(score):
    divisions = int(score.findtext(".//divisions"))
    beats = None
    for measure in score.iter("measure"):
        beats = measure.findtext("attributes/time/beats") or beats
        for staff in ("1", "2"):
            notes = [
                note for note in measure.iter("note") if note.findtext("staff") == staff and note.find("chord") is None
            ]
            length = Fraction(sum(int(note.findtext("duration")) for note in notes), divisions)
            assert length == int(beats) or measure.get("implicit") == "yes"
            assert length == Fraction(int(measure.findtext("backup/duration")), divisions)


def test_every_planned_note_has_its_finger(score):
    for note in score.iter("note"):
        tied = note.find("tie[@type='stop']") is not None
        assert (note.find("rest") is not None or tied) == (note.find("notations/technical/fingering") is None)


def test_key_and_meter_are_told_where_they_change(score):
    assert [(key.findtext("fifths"), key.findtext("mode")) for key in score.iter("key")] == [
        ("-3", "major"),
        ("-1", "major"),
    ]
    assert [time.findtext("beats") for time in score.iter("time")] == ["4", "3", "4", "3", "4"]


def test_a_pickup_and_the_bar_it_shortens_are_not_counted(score):
    numbers = [measure.get("number") for measure in score.iter("measure") if measure.get("implicit") != "yes"]
    assert numbers == [str(number + 1) for number in range(len(numbers))]
    assert any(measure.get("implicit") == "yes" for measure in score.iter("measure"))


def test_a_dotted_quarter_is_counted_in_compound_meters():
    song = song_from_chart("| Am | F |", meter="6/8", tempo=54)
    score = fromstring(musicxml(song, plan(unfold(song))).split(b"?>", 1)[1])
    assert score.find(".//metronome/beat-unit-dot") is not None
    assert score.find(".//sound").get("tempo") == "81"


def test_reading_what_was_written_gives_the_same_chords_at_the_same_places(song, planned):
    again = song_from_musicxml(musicxml(song, planned)).song
    assert (again.title, again.key, again.meter, again.tempo) == (song.title, song.key, song.meter, song.tempo)
    assert sounding(again) == sounding(song)


def test_repeats_are_written_out_where_a_turn_is_planned_apart(song, planned):
    apart = plan(unfold(song_from_chart("||: C | F :|| G |")))
    other = apart.steps[0].left
    steps = tuple(
        step if number != 2 else type(step)(**{name: getattr(step, name) for name in step.__slots__} | {"left": ()})
        for number, step in enumerate(apart.steps)
    )
    assert other
    changed = Plan(steps, apart.effort, apart.free, False)
    written = musicxml(song_from_chart("||: C | F :|| G |"), changed)
    assert b"<repeat" not in written
    assert written.count(b"<measure") == 5


def test_an_empty_song_is_a_measure_of_rest(song):
    assert b"<rest" in musicxml(song, Plan((), 0.0, 0.0, True))


@settings(max_examples=25)
@given(
    st.lists(
        st.sampled_from(("C", "F#m7b5", "Bb13#11", "Ebm(maj7)/Gb", "N.C.", "A7alt", "Dsus2")), min_size=1, max_size=12
    )
)
def test_any_changes_come_back_as_they_were(symbols):
    song = song_from_chart("".join(f"| {symbol} " for symbol in symbols) + "|")
    if all(symbol == "N.C." for symbol in symbols):
        return
    assert sounding(song_from_musicxml(musicxml(song, plan(unfold(song)))).song) == sounding(song)
