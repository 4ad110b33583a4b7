"""Kinds of pasted text as people send them. The habits are common practice; the songs are invented."""

import pytest

from engine.formats.chart_text.reader import song_from_text
from engine.song.unfolding import unfold


def chords(text: str) -> str:
    return " ".join(step.symbol for step in unfold(song_from_text(text).song))


def doubts(text: str) -> str:
    return "\n".join(song_from_text(text).doubts)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("> Key: C\n> A | C | F |\n> B | G | C |", "C F G C"),
        ("Intro\tC\tF\nVerse\tG\tAm\n\tF\tC", "C F G Am F C"),
        ("Verse\n| C | F | x2", "C F C F"),
        ("Verse 2x\n| C | F |", "C F C F"),
        ("| C | F | (3x)", "C F C F C F"),
        ("| F//G | C/// |", "F G C"),
        ("| C | (no chord) | F |", "C N.C. F"),
        ("INTRO: C - Am - F - G (2x)", "C Am F G C Am F G"),
        ("VERSE: C Am F G", "C Am F G"),
        ("Verse\nC      G\nLow light\nChorus\nF   G\nhigh tide\nRepeat Verse", "C G F G C G"),
        ("Verse\n| C | F |\nChorus\n| G | Am |\nChorus twice", "C F G Am G Am G Am"),
        ("Verse\n| C | F |\nSolo over verse", "C F C F"),
        ("Intro\n| C |\nA\n| F |\nB\n| G |\nForm: Intro A A B A", "C F F G F"),
        ("||: C | F |\n1. | G :||\n2. | Am ||", "C F G C F Am"),
        ("Segno\nA | C | F |\nB | G | To Coda\nC | Am |\nD.S. al Coda\nCoda | E |", "C F G Am C F G E"),
        ("e|---0---2---|\nB|---1---3---|\nVerse\n| C | F |", "C F"),
        ("| C | F |\r\n| G | C |\r\n", "C F G C"),
    ],
)
def test_each_kind_of_pasted_text_is_played_as_it_was_meant(text, found):
    assert chords(text) == found


def test_degrees_without_bars_are_chords():
    assert chords("Key: C\nVerse\nI V vi IV") == chords("Key: C\nVerse\n| I | V | vi | IV |") == "C G Am F"


@pytest.mark.parametrize("words", ["Capo 2", "capo: 2", "Capo on 2nd fret", "Kapo 2"])
def test_a_capo_in_any_wording_is_two_semitones_up(words):
    assert chords(f"Mole\n{words}\n| C | F | G | C |") == "D G A D"


def test_a_meter_beside_a_name_is_that_section_s_own():
    song = song_from_text("4/4 112\nA | C | F |\nB 7/8 | G | G |\nA | C | F |").song
    assert [str(section.bars[0].meter) for section in song.sections] == ["4/4", "7/8"]
    assert song.roadmap == ("A", "B", "A")


def test_a_meter_inside_a_bar_holds_until_the_next_one():
    song = song_from_text("|4/4 C | F |3/4 G | Am |4/4 C |").song
    assert [str(bar.meter) for bar in song.sections[0].bars] == ["4/4", "4/4", "3/4", "3/4", "4/4"]


def test_german_headings_and_names_are_read():
    found = song_from_text("Titel: Abend\nTonart: h-Moll\n\n| Hm | G | F#7 | B7 |")
    assert (found.song.title, found.song.key) == ("Abend", "Bm")
    assert [str(event.chord.root) for bar in found.song.sections[0].bars for event in bar.events] == [
        "B",
        "G",
        "F#",
        "Bb",
    ]
    assert any("B is read as B flat" in doubt for doubt in found.doubts)


@pytest.mark.parametrize("heading", ["Quiet Pier (in Dm, about 66)", "Quiet Pier - 66 bpm - Dm"])
def test_a_title_with_key_and_tempo_beside_it_is_taken_apart(heading):
    song = song_from_text(f"{heading}\n| Dm | A7 |").song
    assert (song.title, song.key, song.tempo) == ("Quiet Pier", "Dm", 66)


LEFT_OUT = [
    ("> | C | F |\n> | G | C |\nHello band", "Hello band"),
    ("Verse\nC  G\nLow light\nF  G\nover the mole", "over the mole"),
    ("| C | F |\nbring a lamp", "bring a lamp"),
    ("e|---0---2---|\n| C | F |", "e|---0---2---|"),
    ("# from the pier\n| C | F |", "# from the pier"),
    ("A\n| C |\nForm: A, then home", "then home"),
]


@pytest.mark.parametrize(("text", "words"), LEFT_OUT)
def test_nothing_is_left_out_without_a_doubt_that_quotes_it(text, words):
    assert words in doubts(text)
