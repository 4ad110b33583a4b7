"""Bar numbers and endings as people write them before their bars."""

import pytest

from engine.formats.chart_text.reader import song_from_text
from engine.formats.import_result import Imported
from engine.song.unfolding import unfold


def read(text: str) -> Imported:
    return song_from_text("key: C  tempo: 100\n" + text)


def played(text: str) -> str:
    return " ".join(step.symbol for step in unfold(read(text).song))


@pytest.mark.parametrize(
    ("first", "second"),
    [("1.", "3."), ("1", "3"), ("1:", "3:"), ("m. 1", "m. 3"), ("mm. 1-2", "mm. 3-4"), ("bar 1", "bar 3"),
     ("1)", "3)"), ("(1)", "(3)"), ("[1]", "[3]"), ("1-2", "3-4"), ("1.", "2."), ("measure 17", "measure 19")],
)  # fmt: skip
def test_bar_numbers_make_no_sections(first, second):
    found = read(f"{first} | C | F |\n{second} | G | Am |")
    assert [section.name for section in found.song.sections] == ["A"]
    assert " ".join(step.symbol for step in unfold(found.song)) == "C F G Am"
    assert "line 2: figures read as bar numbers" in found.doubts


def test_bar_numbers_may_stand_in_every_bar():
    assert played("|1 C |2 F |3 G |4 Am |") == "C F G Am"


def test_bar_numbers_go_on_through_the_sections():
    found = read("Verse\n1 | C | F |\nBridge\n3 | G | Am |").song
    assert [section.name for section in found.sections] == ["Verse", "Bridge"]


@pytest.mark.parametrize(
    "text",
    [
        "||: C | F |\n1. | G :||\n2. | Am ||",
        "||: C | F |\n1st time | G :||\n2nd time | Am ||",
        "||: C | F |\n1. | G |\n2. | Am |",
        "||: C | F |1. G :||2. Am ||",
        "||: C | F |1 G :||2 Am ||",
        "||: C | F |1st| G :||2nd| Am ||",
        "| C | F |1. G :||2. Am ||",
        "Verse | C | F |\n1. | G |\n2. | Am |",
        "||: C | F | [1. G :||\n[2. Am ||",
        "1 ||: C | F |\n1. | G :||\n2. | Am ||",
    ],
)
def test_endings_are_played_each_in_its_turn(text):
    assert played(text) == "C F G C F Am"


def test_a_first_ending_of_two_lines_goes_back_after_the_second():
    assert played("||: C | F |\n1. | G |\n| D |\n2. | Am |") == "C F G D C F Am"


@pytest.mark.parametrize("text", ["| 1 | 4 | 5 | 1 |", "1 | 4 | 5 | 1 |"])
def test_in_a_chart_of_numbers_a_figure_is_a_chord(text):
    assert played(text) == "C F G C"


def test_a_chart_of_numbers_may_have_bar_numbers_too():
    assert played("1. | 1 | 4 |\n3. | 5 | 1 |") == "C F G C"


@pytest.mark.parametrize("first", ["1.", "1)", "(1)", "12:"])
def test_a_figure_before_chords_without_bar_lines_goes(first):
    assert played(f"{first}  C   Am7\nwalking on\n{first}  F   G\nand home") == "C Am7 F G"


def test_what_is_read_from_figures_is_said():
    assert "line 3: 1. read as ending 1" in read("||: C | F |\n1. | G :||\n2. | Am ||").doubts


def test_a_named_section_with_a_figure_stays_one():
    assert [section.name for section in read("Verse 1 | C | F |\nA2 | G | C |").song.sections] == ["Verse 1", "A2"]
