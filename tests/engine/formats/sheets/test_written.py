from dataclasses import replace

import pytest

from engine.formats.sheets.written import written_for
from engine.song.reader import song_from_chart
from engine.song.transposing import WRITTEN
from engine.song.unfolding import unfold


@pytest.mark.parametrize(("horn", "key", "first"), [("Bb", "F", "Bbmaj7"), ("Eb", "C", "Fmaj7"), ("F", "Bb", "Ebmaj7")])
def test_concert_e_flat_is_written_in_the_horns_own_key(song, horn, key, first):
    written = written_for(song, horn)
    assert (written.key, written.sections[0].bars[0].events[0].symbol) == (key, first)


def test_a_concert_e_is_written_in_f_sharp_for_a_trumpet_and_in_d_flat_for_an_alto():
    song = song_from_chart("| E |", key="E")
    assert (written_for(song, "Bb").key, written_for(song, "Eb").key) == ("F#", "Db")


@pytest.mark.parametrize("horn", WRITTEN)
def test_degrees_are_the_same_in_every_pitch(song, horn):
    degrees = [[step.chord.degrees for step in unfold(one)] for one in (song, written_for(song, horn))]
    assert degrees[0] == degrees[1]


def test_a_concert_instrument_reads_what_stands_there(song):
    assert written_for(song, "C") == song


@pytest.mark.parametrize("horn", WRITTEN)
def test_a_horn_reads_nothing_of_a_left_hand(song, horn):
    sections = tuple(replace(part, left_hand="stride") for part in song.sections)
    played = replace(song, left_hand="walking", sections=sections)
    assert written_for(played, horn) == written_for(song, horn)
