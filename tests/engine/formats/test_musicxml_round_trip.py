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
    assert len(again.roadmap) == len(song.roadmap)
