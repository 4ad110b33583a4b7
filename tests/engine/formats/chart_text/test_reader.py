"""Charts as people paste them. The forms are common practice of bands; every chart is invented for these tests."""

import pytest

from engine.errors import ChartError
from engine.formats.chart_text.reader import song_from_text
from engine.formats.import_choices import Answers
from engine.formats.import_result import NotImported
from engine.song.unfolding import unfold

LANTERN = """\
1) Lantern Street    key: Eb   4/4   112 swing   count: two bars
   Intro   | Fm7 / Bb7 / | Gm7 / C7b9 / |
   A     ||: Ebmaj7 | % | Fm7 | Bb7  [1. | Gm7 C7 | Fm7 Bb7 :||
                                     [2. | Eb6    | N.C.    ||
"""
HOME = """\
Wandering Home

[Verse 1]
G            D/F#
Somewhere a lantern is burning
Em7     Cadd9
over the water tonight

[Chorus]
C   D   G
Home again
[Verse 2]
G D/F#
A second lantern, and I follow
[Chorus]
"""


def played(text: str, **how: int) -> str:
    return " ".join(step.symbol for step in unfold(song_from_text(text, **how).song))


def doubts(text: str) -> str:
    return "\n".join(song_from_text(text).doubts)


def test_a_heading_gives_title_key_meter_tempo_feel_and_count():
    song = song_from_text(LANTERN).song
    assert (song.title, song.key, str(song.meter), song.tempo, song.feel, song.count) == (
        "Lantern Street", "Eb", "4/4", 112, "swing", "two bars",
    )  # fmt: skip


def test_names_before_bars_are_sections_and_endings_stay():
    song = song_from_text(LANTERN).song
    assert [section.name for section in song.sections] == ["Intro", "A"]
    assert played(LANTERN).endswith(" Ebmaj7 Ebmaj7 Fm7 Bb7 Gm7 C7 Fm7 Bb7 Ebmaj7 Ebmaj7 Fm7 Bb7 Eb6 N.C.")


@pytest.mark.parametrize(
    ("heading", "key", "tempo"),
    [
        ("Key: Cm  Tempo: 80", "Cm", 80),
        ("key: F# 3/4 99", "F#", 99),
        ("Key = A minor, 120 bpm", "Am", 120),
        ("Key Gb\nTempo 96", "Gb", 96),
        ("Key of Bb minor\n♩ = 72", "Bbm", 72),
        ("Key: D\n132 bpm", "D", 132),
    ],
)
def test_headings_are_read_in_many_hands(heading, key, tempo):
    song = song_from_text(f"Pier\n{heading}\n| C |").song
    assert (song.title, song.key, song.tempo) == ("Pier", key, tempo)


def test_words_of_a_title_are_no_key_and_no_tempo():
    for title in ("Key Largo Nights", "Key of Dreams", "Tempo Tantrum", "Nineteen 99", "Keys 4 Two"):
        song = song_from_text(f"{title}\nKey: F\n| F |").song
        assert (song.title, song.key, song.tempo) == (title, "F", 120)


def test_d_s_al_coda_is_unrolled():
    text = "Sign  A | C | Am7 |  To Coda\n B | Ab | Bb |  D.S. al Coda\n Coda | Ab7 | Db ||"
    assert song_from_text(text).song.roadmap == ("A", "B", "A", "Coda")


def test_d_c_al_fine_is_unrolled():
    assert song_from_text("A | C | F | Fine\nB | G | D.C. al Fine").song.roadmap == ("A", "B", "A")


def test_a_name_without_bars_plays_the_section_again():
    text = "Verse | C |\nChorus | F |\nVerse\nChorus x2"
    assert song_from_text(text + "\n").song.roadmap == ("Verse", "Chorus", "Verse", "Chorus", "Chorus")


def test_other_bars_under_the_same_name_are_another_section():
    text = "Verse\n| C |\nChorus\n| F |\nVerse\n| G |"
    assert song_from_text(text).song.roadmap == ("Verse", "Chorus", "Verse 2")


def test_a_number_chart_is_read_in_its_key():
    assert played("key: Bb\nVerse ||: 1 6- | 2-7 5/7 :||") == "Bb G- C-7 F/A Bb G- C-7 F/A"


def test_roman_numerals_are_numbers_too():
    assert played("key: D\n| ii7 | V7 | Imaj7 |") == "Em7 A7 Dmaj7"


def test_where_h_is_a_chord_b_is_b_flat():
    assert played("key: E\n| H7 | E | Fism | B |") == "B7 E F#m Bb"


@pytest.mark.parametrize(
    ("bar", "beats"),
    [
        ("C F G", [2, 1, 1]),
        ("C F", [2, 2]),
        ("C / / F", [3, 1]),
        ("C / F", [pytest.approx(8 / 3), pytest.approx(4 / 3)]),
    ],
)
def test_chords_that_share_no_bar_evenly_are_shared_and_said(bar, beats):
    found = song_from_text(f"| {bar} |")
    assert [float(step.beats) for step in unfold(found.song)] == beats
    assert ("evenly" in "".join(found.doubts)) == (bar in ("C F G", "C / F"))


@pytest.mark.parametrize(
    ("text", "chords", "doubt"),
    [
        ("| C | | F |", "C C F", "an empty bar, read as the bar before again"),
        ("| % | C |", "N.C. C", "% and no bar before it"),
        ("| C | (3/5) F |", "C F", "(3/5) is no meter"),
        ("| C | (3/4) F |", "C F", "no tempo"),
        ("| C (softly) | F |", "C F", "(softly) was left out"),
        ("| C (F) |", "C F", "no tempo"),
        ("| C. | F; |", "C F", "no tempo"),
        ("| / C / / |", "N.C. C", "no tempo"),
        ("| C(push) | F / (hold) G / |", "C F G", "no tempo"),
    ],
)
def test_bars_that_a_hand_left_half_written_are_mended_and_said(text, chords, doubt):
    assert played(text) == chords
    assert doubt in doubts(text)


def test_a_word_that_is_no_chord_leaves_a_silence_and_a_doubt():
    assert played("| C | Bad | F |") == "C N.C. F"
    assert "line 1: Bad is no chord" in doubts("| C | Bad | F |")


def test_chords_over_words_become_one_bar_each_and_that_is_a_doubt():
    found = song_from_text(HOME)
    assert found.song.roadmap == ("Verse 1", "Chorus", "Verse 2", "Chorus")
    assert played(HOME) == "G D/F# Em7 Cadd9 C D G G D/F# C D G"
    assert "no bar lines" in found.doubts[0]


def test_two_chords_a_bar_may_be_asked_for():
    assert [step.bar for step in unfold(song_from_text(HOME, answers=Answers(per_bar=2)).song)][:4] == [1, 1, 2, 2]


def test_the_first_words_become_the_cue():
    assert song_from_text(HOME).song.sections[0].cue == "Somewhere a lantern is burning"


def test_chords_inside_words_are_read_and_headings_in_brackets_too():
    text = "{title: Small Boat}\n{key: D}\n{Chorus}\n[D]Row the [A7]boat [D]home"
    song = song_from_text(text).song
    assert (song.title, song.key, song.sections[0].name, played(text)) == ("Small Boat", "D", "Chorus", "D A7 D")


def test_a_capo_is_converted_into_what_sounds():
    found = song_from_text("Key: G\nCapo 3\n| G | C | D7 |")
    assert (found.song.key, played("Key: G\nCapo 3\n| G | C | D7 |")) == ("Bb", "Bb Eb F7")
    assert "capo 3" in found.doubts[0]


def test_doubtful_symbols_are_listed_and_house_rules_settle_them():
    assert "Co: read as diminished without the seventh" in doubts("| Co |")
    found = song_from_text("| Co |", answers=Answers(reading=(("o", "dim7"),)))
    assert found.song.sections[0].bars[0].events[0].chord.degrees == ("1", "b3", "b5", "bb7")


def test_bars_that_cannot_be_read_name_their_pasted_line():
    with pytest.raises(ChartError) as raised:
        song_from_text("Pier\n\nVerse\n\n||: C | F |\n")
    assert raised.value.faults[0].line == 5


@pytest.mark.parametrize("text", ["", "Dear all, we meet at eight.", "\n\n\n", "[Verse]\nno chords at all"])
def test_a_text_without_chords_is_refused(text):
    with pytest.raises(NotImported, match="no chords"):
        song_from_text(text)


@pytest.mark.parametrize(
    "text", ["| C |\n" * 2000, "| C C C C |\n" * 900, "| C " * 3000, "Verse\n| C | D.S.\n" * 20_000]
)
def test_a_text_with_more_chords_than_a_song_is_refused_at_once(text):
    with pytest.raises(NotImported, match="far"):
        song_from_text(text)
