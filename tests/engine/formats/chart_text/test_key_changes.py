"""A chart that changes key or meter on the way, and what is said behind a section's name."""

from engine.formats.chart_text.reader import song_from_text

HEAD = "Two Rooms\nKey: Eb  4/4  tempo 90\n"


def test_a_key_written_between_sections_is_that_of_all_that_follow() -> None:
    found = song_from_text(HEAD + "A\n| Eb |\nKey: E\nB\n| E |\nTag\n| B7 |\nKey: Eb\nEnd\n| Eb |\n")
    assert [section.key for section in found.song.sections] == ["", "E", "E", ""]
    assert not found.doubts


def test_a_meter_written_below_a_name_is_that_of_the_section() -> None:
    found = song_from_text(HEAD + "A\n| Eb |\nB\nMeter: 3/4\n| Eb / Bb7 |\n")
    assert 'meter = "3/4"' in found.text
    assert not found.doubts


def test_a_key_before_bars_without_a_name_begins_a_section() -> None:
    found = song_from_text(HEAD + "Chorus\n| Eb |\nKey: E\n| E |\n")
    assert [(section.name, section.key) for section in found.song.sections] == [("Chorus", ""), ("Chorus 2", "E")]


def test_a_section_named_again_in_another_key_is_a_doubt() -> None:
    found = song_from_text(HEAD + "[Chorus]\n| Eb |\nKey: E\n[Chorus]\n")
    assert "Chorus is played as it was, without key E" in found.doubts


def test_a_second_key_before_any_bar_is_a_doubt() -> None:
    found = song_from_text(HEAD + "Key: E\nA\n| Eb |\n")
    assert "line 3: key E was left out, Eb stands before it" in found.doubts


def test_words_behind_a_name_in_brackets_are_its_cue_or_its_way() -> None:
    found = song_from_text(HEAD + "[A]\n| Eb |\n[Bridge] (drums out)\n| Ab |\nVamp (till cue)\n| Eb7 |\n")
    assert [section.name for section in found.song.sections] == ["A", "Bridge", "Vamp"]
    assert 'cue = "drums out"' in found.text
    assert found.text.index('until = "cue"') > found.text.index("[sections.Vamp]")
    assert not found.doubts
