from engine.song.reader import read_song
from engine.song.set_list import read_set
from engine.song.unfolding import unfold
from engine.song.writing import write_song

SONG = """
title = "Pier"
key = "C"
comp = "Charleston"
[sections.A]
bars = "| C | F |"
[sections.B]
comp = "reverse charleston"
bars = "| G |"
"""


def test_a_section_may_say_its_own_rhythm():
    steps = unfold(read_song(SONG, "pier"))
    assert [step.comp for step in steps] == ["charleston", "charleston", "reverse charleston"]


def test_reading_what_was_written_gives_the_same_rhythms():
    song = read_song(SONG, "pier")
    again = read_song(write_song(song), "pier")
    assert (again.comp, again.sections[1].comp) == (song.comp, song.sections[1].comp)


def test_tonights_rhythm_goes_before_the_songs():
    text = 'title = "Set"\n[[songs]]\nfile = "pier"\ncomp = "bossa"\n'
    song = read_set(text, "set", lambda name: SONG).songs[0].song
    assert song.comp == "bossa"


def test_a_near_miss_is_noted_and_a_rhythm_of_the_players_own_is_not():
    near = read_song(SONG.replace('"Charleston"', '"charlston"'), "pier")
    assert any("did you mean charleston" in remark for *_, remark in near.doubts)
    assert not read_song(SONG.replace('"Charleston"', '"pier walk"'), "pier").doubts
