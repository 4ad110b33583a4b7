"""Brackets, repeat signs and words that leave something out, as they come in real files, and how a band reads them."""

import pytest

from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.song.unfolding import unfold
from tests.engine.formats.scores import bar_line, mark, measure, played, score, sound, words


def doubts(data: bytes) -> str:
    return "\n".join(song_from_musicxml(data).doubts)


def test_an_ending_that_stops_before_its_repeat_sign_lasts_until_it():
    data = score(
        measure("C"),
        measure("F", before=bar_line(ending="1"), after=bar_line("", "1", "stop")),
        measure("G", after=bar_line("backward")),
        measure("A", before=bar_line(ending="2"), after=bar_line("", "2", "stop")),
    )
    assert played(data) == "C F G C A"
    assert "stops before its repeat sign" in doubts(data)


def test_an_ending_for_the_first_and_third_time_is_played_twice():
    data = score(
        measure("C"),
        measure("F", before=bar_line(ending="1,3"), after=bar_line("backward", "1,3", "stop")),
        measure("G", before=bar_line(ending="2"), after=bar_line("backward", "2", "stop")),
        measure("D"),
    )
    assert played(data) == "C F C G C F D"


@pytest.mark.parametrize("number", ["1", "2"])
def test_two_endings_of_one_number_are_read_one_after_the_other(number):
    data = score(
        measure("C"),
        measure("F", before=bar_line(ending=number), after=bar_line("backward", number, "stop")),
        measure("G", before=bar_line(ending=number), after=bar_line("", number, "stop")),
    )
    assert played(data) == "C F C G"
    assert f"endings {number} and {number}" in doubts(data)


def test_a_bracket_begun_again_on_the_next_line_is_one_ending():
    data = score(
        measure("C"),
        measure("F", before=bar_line(ending="1"), after=bar_line("", "1", "stop")),
        measure("G", before=bar_line(ending="1"), after=bar_line("backward", "1", "stop")),
        measure("A", before=bar_line(ending="2"), after=bar_line("", "2", "stop")),
    )
    assert played(data) == "C F G C A"


@pytest.mark.parametrize(
    ("jump", "fine"), [("D.C.alFine", "(fine)"), ("D.C. al Fine", "Fine"), ("DC al Fine", "fine.")]
)
def test_jumps_are_read_however_they_are_spaced(jump, fine):
    assert played(score(measure("C", after=words(fine)), measure("F", after=words(jump)))) == "C F C"


def test_da_capo_al_coda_without_spaces_goes_to_the_coda():
    data = score(
        measure("C", after=words("To Coda")),
        measure("F", after=words("D.C.alCoda")),
        measure("G", before=words("Coda")),
    )
    assert played(data) == "C F C G"


def test_fine_inside_an_ending_is_met_after_the_jump():
    data = score(
        measure("C"),
        measure("F", before=bar_line(ending="1"), after=bar_line("backward", "1", "stop") + sound(fine="yes")),
        measure("G", before=bar_line(ending="2"), after=bar_line("", "2", "stop")),
        measure("D", after=sound(dacapo="yes")),
    )
    assert played(data) == "C F C G D C F"


@pytest.mark.parametrize("told", ["x3", "3x", "(3 x)", "play 3 times", "three times"])
def test_words_at_a_repeat_say_how_often_it_is_played(told):
    data = score(measure("C", after=words(told) + bar_line("backward")), measure("D"))
    assert played(data) == "C C C D"
    assert "3 times" in doubts(data)


def test_words_that_say_what_the_repeat_sign_says_are_no_remark():
    data = score(measure("C", before=words("3× in all"), after=bar_line("backward", times="3")), measure("D"))
    assert played(data) == "C C C D"
    assert "3" not in doubts(data)
    assert [section.cue for section in song_from_musicxml(data).song.sections] == [""]


def test_a_pickup_into_a_section_completes_the_bar_before_it():
    data = score(
        measure("C", before=mark("A")), measure("F"), measure("G", quarters=3),
        measure("D", quarters=1, before=mark("B")), measure("C"), measure("C"),
    )  # fmt: skip
    song = song_from_musicxml(data).song
    assert [(section.name, section.pickup, len(section.bars)) for section in song.sections] == [
        ("A", 0, 3),
        ("B", 1, 3),
    ]
    assert [(step.symbol, step.bar, step.beats) for step in unfold(song)][2:5] == [
        ("G", 3, 3),
        ("D", 0, 1),
        ("C", 1, 4),
    ]


def test_short_measures_at_a_repeat_stay_as_they_are():
    data = score(
        measure("C", before=mark("A") + bar_line("forward")), measure("G", quarters=3, after=bar_line("backward")),
        measure("D", quarters=1, before=mark("B")), measure("C"), measure("C"),
    )  # fmt: skip
    assert [section.pickup for section in song_from_musicxml(data).song.sections] == [0, 0]


def test_a_repeat_after_a_pickup_goes_back_to_the_first_whole_measure_with_a_doubt():
    data = score(measure("G", quarters=1), measure("C", after=bar_line("backward")), measure("D"))
    assert played(data) == "G C C D"
    assert "pickup is played once" in doubts(data)
