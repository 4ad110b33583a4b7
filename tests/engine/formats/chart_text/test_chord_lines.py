"""What stands before the first bar line of a pasted line: a section, a bar, a pickup. Common practice of bands."""

import pytest

from engine.formats.chart_text.reader import song_from_text
from engine.song.unfolding import unfold


def test_a_chord_in_brackets_before_the_first_bar_is_a_pickup():
    song = song_from_text("key: D 3/4\n (A7)  | D | G |").song
    assert (song.sections[0].pickup, unfold(song)[0].symbol, unfold(song)[0].beat) == (1, "A7", 3)


@pytest.mark.parametrize(
    ("text", "symbols"),
    [
        (
            "F | Bb7 | F | F7\nBb7 | Bb7 | F | D7\nGm7 | C7 | F D7 | Gm7 C7",
            "F Bb7 F F7 Bb7 Bb7 F D7 Gm7 C7 F D7 Gm7 C7",
        ),
        ("Dm7 | G7 | C6 | A7 |\nDm7 G7 | C6 |", "Dm7 G7 C6 A7 Dm7 G7 C6"),
        ("[Verse]\nF | Bb7 | F | F7 |\nBb7 | F |", "F Bb7 F F7 Bb7 F"),
        ("| C | F |\nG7 | C | F |", "C F G7 C F"),
        ("key: C\n1 | 4 | 5 | 1", "C F G C"),
        ("A: Cm7 | F7 | Bbmaj7 | Ebmaj7\n[B] Am7b5 | D7 | Gm | %", "Cm7 F7 Bbmaj7 Ebmaj7 Am7b5 D7 Gm Gm"),
        ("Verse 1 F | Bb7 |", "F Bb7"),
        ("| Em7 A7 | Dmaj7 % |", "Em7 A7 Dmaj7"),
        ("| C . . . | F - G - | Am __ |", "C F G Am"),
    ],
)
def test_bar_lines_between_the_bars_alone_lose_no_chord(text, symbols):
    assert " ".join(step.symbol for step in unfold(song_from_text(text).song)) == symbols


@pytest.mark.parametrize("text", ["A | Dm7 | G7 | C6 | % |\nB | Em7 | A7 | D6 | % |", "A | Dm7 | G7 |"])
def test_a_lone_letter_before_even_bars_names_the_section(text):
    assert song_from_text(text).song.sections[0].name == "A"


def test_a_chord_before_even_bars_is_a_pickup():
    found = song_from_text("key: C\nG7 | C6 | Dm7 | G7 | C6 |")
    assert found.song.sections[0].pickup == 1
    assert any("read as a pickup" in doubt for doubt in found.doubts)


def test_a_pickup_that_has_no_place_is_left_out_with_a_doubt():
    found = song_from_text("key: C\n| C | F |\n(G7) | C | F |")
    assert any("G7 before the first bar line was left out" in doubt for doubt in found.doubts)
