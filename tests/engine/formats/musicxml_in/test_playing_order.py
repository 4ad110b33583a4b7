"""Repeats, endings and jumps unrolled as they are played. Source: MusicXML 4.0 (W3C)."""

import pytest

from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.song.unfolding import unfold
from tests.engine.formats.scores import bar_line, mark, measure, played, score, second_part, sound, words


def test_the_form_of_repeats_and_endings_is_kept_in_signs():
    data = score(
        measure("C"),
        measure("F", before=bar_line("forward")),
        measure("G", before=bar_line(ending="1"), after=bar_line("backward", "1", "stop")),
        measure("A", before=bar_line(ending="2"), after=bar_line("", "2", "stop")),
        measure("D"),
    )
    assert played(data) == "C F G F A D"
    assert "| C | ||: F | [1. G :|| [2. A ||" in song_from_musicxml(data).text


@pytest.mark.parametrize(("times", "order"), [("", "C C D"), ("3", "C C C D")])
def test_a_repeat_without_an_opening_sign_goes_back_to_the_top(times, order):
    assert played(score(measure("C", after=bar_line("backward", times=times)), measure("D"))) == order


def test_a_chord_struck_again_in_its_bar_stays_two():
    assert played(score(measure("C", "C"))) == "C C"


def test_da_capo_al_fine_takes_no_repeats():
    data = score(
        measure("C", before=mark("A"), after=bar_line("backward")),
        measure("F", after=sound(fine="yes")),
        measure("G", before=mark("B"), after=sound(dacapo="yes")),
    )
    assert played(data) == "C C F G C F"


def test_dal_segno_al_coda_goes_by_the_sign():
    data = score(
        measure("C"),
        measure("D", before=sound(segno="1")),
        measure("E", after=sound(tocoda="1")),
        measure("F", after=sound(dalsegno="1")),
        measure("G", before=sound(coda="1")),
    )
    assert played(data) == "C D E F D E G"
    assert song_from_musicxml(data).song.sections[-1].name == "Coda"


def test_jumps_are_read_from_words_where_nothing_else_says_so():
    segno = "<direction><direction-type><segno/></direction-type></direction>"
    coda = segno.replace("segno", "coda")
    data = score(
        measure("C", before=segno),
        measure("E", after=words("To Coda")),
        measure("F", after=words("D.S. al Coda")),
        measure("G", before=coda),
    )
    assert played(data) == "C E F C E G"


def test_of_two_coda_signs_the_first_is_the_way_to_it():
    coda = "<direction><direction-type><coda/></direction-type></direction>"
    data = score(measure("C", after=coda), measure("F", after=words("D.C. al Coda")), measure("G", before=coda))
    assert played(data) == "C F C G"


def test_a_jump_to_nowhere_is_a_doubt_and_the_song_goes_on():
    found = song_from_musicxml(score(measure("C", after=words("D.S.")), measure("F")))
    assert len(unfold(found.song)) == 2
    assert any("no sign" in doubt for doubt in found.doubts)


def test_a_pickup_is_repeated_when_the_last_bar_leaves_room_for_it():
    data = score(measure("G", quarters=1), measure("C"), measure("F", quarters=3, after=bar_line("backward")))
    assert played(data) == "G C F G C F"


def test_signs_of_the_form_may_stand_in_another_part_than_the_chords():
    chords = score(measure("C"), measure("F"), measure("G"))
    melody = [measure(), measure(after=bar_line("backward")), measure()]
    assert played(second_part(chords, *melody)) == "C F C F G"


def test_an_ending_that_no_pass_plays_is_a_doubt():
    found = song_from_musicxml(
        score(
            measure("C"),
            measure("D", before=bar_line(ending="1"), after=bar_line("backward", "1", "stop")),
            measure("E", before=bar_line(ending="5"), after=bar_line("", "5", "stop")),
            measure("F"),
        )
    )
    assert [step.symbol for step in unfold(found.song)] == ["C", "D", "C", "F"]
    assert any("is never played" in doubt for doubt in found.doubts)


def test_an_ending_without_a_repeat_is_played_like_any_bar():
    assert (
        played(score(measure("C", before=bar_line(ending="5")), measure("F", after=bar_line("", "5", "stop")))) == "C F"
    )
