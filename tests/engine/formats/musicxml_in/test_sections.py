"""Measures cut into sections with a roadmap."""

from engine.formats.musicxml_in.reader import song_from_musicxml
from tests.engine.formats.scores import attributes, bar_line, mark, measure, score


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
