"""Sections of a pasted chart, each written once."""

from engine.formats.chart_text.reader import song_from_text


def test_words_of_a_section_that_is_written_twice_with_the_same_bars_are_told():
    found = song_from_text("Outro: Am - F\nOutro: Am - F\nRepeat Verse")
    assert "Outro is played as it was, without the words 'Repeat Verse'" in found.doubts
