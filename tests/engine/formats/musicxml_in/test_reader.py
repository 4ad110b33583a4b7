"""MusicXML lead sheets as songs. The meanings of signs are those of MusicXML 4.0 (W3C)."""

import pytest

from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.song.reader import read_song
from engine.song.unfolding import unfold
from tests.engine.formats.scores import attributes, harmony, mark, measure, note, played, score, second_part


def test_a_short_measure_after_the_first_has_a_meter_of_its_own():
    bars = song_from_musicxml(score(measure("C"), measure("F", quarters=2), measure("C"))).song.sections[0].bars
    assert [str(bar.meter) for bar in bars] == ["4/4", "2/4", "4/4"]


def test_chords_stand_at_their_beats_and_last_over_bar_lines():
    found = song_from_musicxml(
        score(measure("C", "F"), measure(), measure(harmony("G") + note(3) + harmony("C") + note(1)))
    )
    assert [(step.bar, step.beat, step.symbol) for step in unfold(found.song)][:4] == [
        (1, 1, "C"), (1, 3, "F"), (2, 1, "F"), (3, 1, "G"),
    ]  # fmt: skip


def test_a_pickup_is_not_bar_one():
    found = song_from_musicxml(score(measure("G", quarters=1), measure("C"), measure("F")))
    assert found.song.sections[0].pickup == 1
    assert [(step.bar, step.beat) for step in unfold(found.song)] == [(0, 4), (1, 1), (2, 1)]


@pytest.mark.parametrize(("fifths", "mode", "key"), [(-3, "minor", "Cm"), (0, "dorian", "Dm"), (0, "mixolydian", "G")])
def test_a_mode_has_its_tonic(fifths, mode, key):
    assert song_from_musicxml(score(measure("C"), first=attributes(fifths, mode=mode))).song.key == key


def test_a_meter_change_holds_until_the_next():
    found = song_from_musicxml(
        score(measure("C"), measure("F", before=attributes(0, "3/4"), quarters=3), measure("G", quarters=3))
    )
    assert [str(bar.meter) for bar in found.song.sections[0].bars] == ["4/4", "3/4", "3/4"]


def test_the_melody_gives_the_range():
    data = score(measure("C").replace("</measure>", note(0, "G5") + note(0, "A3") + "</measure>"))
    assert song_from_musicxml(data).song.melody == (57, 79)


def test_two_staves_without_words_are_no_tune():
    assert song_from_musicxml(score(measure("C"), first=attributes(more="<staves>2</staves>"))).song.melody is None


def test_a_transposing_part_is_read_in_sounding_pitch():
    # A trumpet in Bb: written D major sounds C major; common practice.
    move = "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>"
    found = song_from_musicxml(score(measure("D"), measure(harmony("A", "dominant")), first=attributes(2, more=move)))
    assert (found.song.key, [step.symbol for step in unfold(found.song)]) == ("C", ["C", "G7"])
    assert found.song.melody == (58, 58)


def test_a_fermata_holds_the_chord_under_it():
    held = note(4).replace("</note>", "<notations><fermata/></notations></note>")
    assert unfold(song_from_musicxml(score(measure(harmony("C") + held))).song)[0].mark == "hold"


def test_a_score_by_measures_is_a_score_by_parts():
    data = score(measure("C"), measure("F")).decode()
    turned = data.replace('<part id="P1">', "").replace("</part>", "").replace("score-partwise", "score-timewise")
    turned = turned.replace('<measure number="1">', '<measure number="1"><part id="P1">')
    assert played(turned.replace("</measure>", "</part></measure>").encode()) == "C F"


def test_the_file_written_is_the_song_that_was_read():
    found = song_from_musicxml(score(measure("C", before=mark("Verse")), measure("F"), title='A "quoted" title'))
    assert read_song(found.text, "").title == found.song.title == 'A "quoted" title'


def test_the_melody_is_the_part_that_is_sung():
    sung = note(4, "E5").replace("</note>", "<lyric><text>la</text></lyric></note>")
    data = second_part(score(measure("C")), f"<measure>{attributes()}{sung}</measure>")
    assert song_from_musicxml(data).song.melody == (76, 76)


def test_a_chord_after_the_end_of_its_bar_is_left_out_with_a_doubt():
    late = harmony("G", more="<offset>9</offset>")
    found = song_from_musicxml(score(measure("C", before=late), measure("F")))
    assert [step.symbol for step in unfold(found.song)] == ["C", "F"]
    assert any("after the end of its bar" in doubt for doubt in found.doubts)
