"""A song of ours written as MusicXML and read again keeps its chords, key, meter, tempo and form."""

from pathlib import Path

import pytest

from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.formats.musicxml_out.writer import musicxml
from engine.planning.planner import plan
from engine.song.model import Song
from engine.song.reader import read_song
from engine.song.unfolding import unfold

SONGS = sorted((Path(__file__).parents[3] / "setlists" / "songs").glob("*.toml"))


def chords(song: Song) -> list[object]:
    return [
        step.chord and (step.chord.degrees, step.chord.root, step.chord.bass, step.beats, step.key)
        for step in unfold(song)
    ]


@pytest.mark.parametrize("file", SONGS, ids=[file.stem for file in SONGS])
def test_a_song_written_and_read_again_plays_the_same(file):
    song = read_song(file.read_text(encoding="utf-8"), file.name)
    again = song_from_musicxml(musicxml(song, plan(unfold(song)))).song
    assert chords(again) == chords(song)
    assert (again.title, again.key, again.meter, again.tempo) == (song.title, song.key, song.meter, song.tempo)
    assert again.roadmap == song.roadmap
    for one, before in zip(unfold(again), unfold(song), strict=True):
        assert (one.section, one.bar, one.beat, one.meter) == (before.section, before.bar, before.beat, before.meter)
        assert (one.mark, one.cue, one.until, one.pace) == (before.mark, before.cue, before.until, before.pace)
    assert again.feel == song.feel


@pytest.mark.parametrize("mark", ["push", "stop", "ring", "hold"])
def test_a_mark_survives_the_way_out_and_back(mark):
    bars = f"| C | F G({mark}) | Am | C |"
    song = read_song(f'title = "Pier"\nkey = "C"\nmeter = "4/4"\ntempo = 90\n[sections.A]\nbars = "{bars}"\n', "")
    again = song_from_musicxml(musicxml(song, plan(unfold(song)))).song
    assert [(step.symbol, step.mark) for step in unfold(again)] == [(step.symbol, step.mark) for step in unfold(song)]


def test_a_comping_rhythm_survives_the_way_out_and_back_by_its_name():
    text = SWINGING.replace("[sections.A]", '[sections.A]\ncomp = "charleston"')
    song = read_song(text + '[sections.B]\nbars = "| C | F |"\n', "")
    again = song_from_musicxml(musicxml(song, plan(unfold(song)))).song
    assert [(section.comp, section.cue) for section in again.sections] == [("charleston", ""), ("", "")]


def test_a_left_hands_pattern_survives_the_way_out_and_back_by_its_name():
    song = read_song(SWINGING.replace("[sections.A]", '[sections.A]\nleft_hand = "stride"'), "")
    again = song_from_musicxml(musicxml(song, plan(unfold(song)))).song
    assert [(section.left_hand, section.cue) for section in again.sections] == [("stride", "")]


def test_swing_survives_the_way_out_and_back():
    song = read_song(SWINGING, "")
    written = musicxml(song, plan(unfold(song)))
    assert b"<swing-type>eighth</swing-type>" in written
    assert song_from_musicxml(written).song.feel == "swing"


SWINGING = """title = "Pier"
key = "C"
meter = "4/4"
tempo = 90
feel = "swing"
[sections.A]
bars = "| C | F | G | C |"
"""
