"""The tempo a song is written in, and tempos that change on the way."""

from fractions import Fraction

import pytest

from engine.formats.musicxml_in.reader import song_from_musicxml
from tests.engine.formats.scores import attributes, measure, score, sound


@pytest.mark.parametrize(("time", "tempo"), [("4/4", 90), ("6/8", 60)])
def test_tempo_counts_quarters_and_dotted_quarters_in_compound_meters(time, tempo):
    quarters = 4 if time == "4/4" else 3
    found = song_from_musicxml(
        score(measure("C", before=sound(tempo="90"), quarters=quarters), first=attributes(0, time))
    )
    assert found.song.tempo == tempo


def test_a_metronome_mark_is_a_tempo():
    sign = "<metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome>"
    found = song_from_musicxml(
        score(measure("C", before=f"<direction><direction-type>{sign}</direction-type></direction>"))
    )
    assert found.song.tempo == 120


def test_a_missing_tempo_is_a_doubt():
    assert any("tempo" in doubt for doubt in song_from_musicxml(score(measure("C"))).doubts)


def test_a_tempo_that_lasts_is_a_sections():
    slow = [measure("F", before=sound(tempo="45")), *(measure("F") for _ in range(3))]
    found = song_from_musicxml(score(*(measure("C", before=sound(tempo="90")) for _ in range(4)), *slow))
    assert [(section.name, section.pace) for section in found.song.sections] == [("A", 1), ("B", Fraction(1, 2))]
    assert "tempo = 45" in found.text
    assert not any("tempo" in doubt for doubt in found.doubts)


def test_a_tempo_of_a_few_measures_is_a_doubt():
    found = song_from_musicxml(score(measure("C", before=sound(tempo="90")), measure("F", before=sound(tempo="120"))))
    assert found.song.tempo == 90
    assert any("the tempo changes to 120" in doubt for doubt in found.doubts)
