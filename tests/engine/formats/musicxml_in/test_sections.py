"""Measures cut into sections with a roadmap."""

from engine.formats.musicxml_in.reader import song_from_musicxml
from tests.engine.formats.scores import attributes, bar_line, mark, measure, played, score, sound, words


def test_a_repeat_over_two_marked_sections_is_written_out_in_the_roadmap():
    data = score(
        measure("C", before=mark("A") + bar_line("forward")),
        measure("F", before=mark("B"), after=bar_line("backward")),
        measure("G", before=mark("C")),
    )
    assert song_from_musicxml(data).song.roadmap == ("A", "B", "A", "B", "C")


def test_a_mark_that_comes_again_over_the_same_bars_is_the_same_section():
    verse, chorus = mark("Verse"), mark("Chorus")
    data = score(
        measure("C", before=verse), measure("F", before=chorus), measure("C", before=verse), measure("G", before=chorus)
    )
    assert song_from_musicxml(data).song.roadmap == ("Verse", "Chorus", "Verse", "Chorus 2")


def test_a_key_change_begins_a_section_in_its_own_key():
    found = song_from_musicxml(score(measure("F"), measure("G", before=attributes(1)), first=attributes(-1)))
    assert (found.song.key, [section.key for section in found.song.sections]) == ("F", ["", "G"])


def test_sections_are_named_by_words_where_no_mark_names_them():
    data = score(measure("C", before=words("Verse")), measure("F"), measure("G", before=words("Chorus")), measure("C"))
    assert song_from_musicxml(data).song.roadmap == ("Verse", "Chorus")


def test_a_mark_goes_before_words():
    data = score(measure("C", before=mark("A")), measure("F", before=words("Verse")), measure("G", before=mark("B")))
    assert song_from_musicxml(data).song.roadmap == ("A", "B")


def test_no_measure_makes_a_section_alone():
    data = score(
        measure("C", before=mark("A") + bar_line("forward")),
        measure("F"),
        measure("G", before=bar_line(ending="1"), after=bar_line("backward", "1", "stop")),
        measure("D", before=bar_line(ending="2"), after=bar_line("backward", "2", "stop")),
        measure("E"),
        measure("A", after=sound(dacapo="yes")),
    )
    song = song_from_musicxml(data).song
    assert played(data) == "C F G C F D E A C F D E A"
    assert all(len(section.bars) > 1 for section in song.sections)
