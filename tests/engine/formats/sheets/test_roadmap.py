from engine.formats.plain_text import cue_text
from engine.formats.sheets.cue_sheet import Sheet
from engine.formats.sheets.roadmap import Leg, bar_words, beginning, ending, legs, played_sections, told_meters
from engine.song.reader import read_song
from engine.song.unfolding import unfold


def test_bars_are_counted_as_they_are_played_repeats_and_endings_included(song):
    # Two bars before the endings and two in each of them, once each: 8; the tag's first bar three times.
    assert legs(unfold(song)) == (Leg("Intro", 1, 2), Leg("Verse", 2, 8), Leg("Tag", 1, 4))


def test_sections_stand_in_the_order_they_are_first_played(song):
    assert [section.name for section in played_sections(song)] == ["Intro", "Verse", "Tag"]


def test_a_song_says_how_it_begins_and_how_it_ends(song):
    assert beginning(song) == "Intro (piano alone): Abmaj7"
    assert ending(song) == "Tag: Eb6, hold"


def test_a_pickup_is_no_bar():
    assert [bar_words("Verse", bar) for bar in (0, 1)] == ["Verse, pickup", "Verse, bar 1"]


def test_a_section_in_another_meter_than_the_song_says_so_each_time_and_the_way_back_is_said():
    song = read_song(
        """title = "Ferry"
key = "C"
meter = "3/4"
roadmap = "A, B, C, D"
[sections.A]
bars = "| C | F |"
[sections.B]
meter = "4/4"
bars = "| Am | (2/4) G | (4/4) F |"
[sections.C]
meter = "4/4"
bars = "| C | C |"
[sections.D]
bars = "| F | C |"
""",
        "ferry",
    )
    assert told_meters(played_sections(song), song.meter) == (
        ("", ""), ("4/4", "2/4", "4/4"), ("4/4", ""), ("3/4", ""),
    )  # fmt: skip
    assert "(4/4) C" in cue_text(Sheet(song))
