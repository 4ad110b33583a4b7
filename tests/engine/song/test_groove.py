import pytest

from engine.errors import ChartError
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


def test_a_left_hand_pattern_holds_for_the_narrowest_that_says_it():
    text = SONG.replace("comp = ", "left_hand = ").replace("Charleston", "Stride").replace("reverse stride", "walking")
    text = text.replace("reverse charleston", "held")
    assert [step.left_hand for step in unfold(read_song(text, "pier"))] == ["stride", "stride", "held"]
    tonight = 'title = "Set"\n[[songs]]\nfile = "pier"\nleft_hand = "walking"\n'
    assert read_set(tonight, "set", lambda name: text).songs[0].song.left_hand == "walking"


def test_reading_what_was_written_gives_the_same_patterns():
    song = read_song(SONG.replace('comp = "Charleston"', 'left_hand = "1-5-10"'), "pier")
    assert read_song(write_song(song), "pier").left_hand == "1-5-10"


@pytest.mark.parametrize(("given", "hint"), [('"strid"', "did you mean stride"), ("4", "in quotes"), ('"x"', "choose")])
def test_a_pattern_that_is_none_is_a_fault_at_its_place(given, hint):
    with pytest.raises(ChartError) as fault:
        read_song(SONG.replace('comp = "Charleston"', f"left_hand = {given}"), "pier")
    found = fault.value.faults[0]
    assert (found.line, found.column) == (4, 13)
    assert hint in found.hint
