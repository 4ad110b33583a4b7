"""Keys of charts that do not say theirs."""

import pytest

from engine.formats.chart_text.key_guess import likely_keys
from engine.formats.chart_text.reader import song_from_text


@pytest.mark.parametrize(
    ("bars", "key"),
    [("| C | F | G7 | C |", "C"), ("| Am | Dm | E7 | Am |", "Am"), ("| Ebmaj7 | Cm7 | Fm7 | Bb7 |", "Eb"),
     ("| A | D | E7 | A |", "A"), ("| Gm | Cm | D7 | Gm |", "Gm")],
)  # fmt: skip
def test_a_key_that_nobody_wrote_is_taken_from_the_chords_and_said(bars, key):
    found = song_from_text(bars)
    assert found.song.key == key
    assert any("key" in doubt for doubt in found.doubts)


def test_another_likely_key_is_offered_in_place_of_the_one_that_was_taken():
    choice = next(choice for choice in song_from_text("| Gm | Cm | D7 | Gm |").choices if "no key" in choice.doubt)
    assert choice.answers.key == choice.instead != "Gm"


def test_without_a_chord_the_key_is_c():
    assert str(likely_keys(())[0]) == "C"
