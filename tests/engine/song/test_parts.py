"""How single sections are played: as one text, tonight in a set, for good in the song's own file."""

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.errors import ChartError
from engine.planning.lineup import request_for
from engine.song.groove import LEFT_HAND_CHOICES
from engine.song.header import VOICING
from engine.song.model import Song
from engine.song.parts import PART_KEYS, differences, parts_of, with_part, with_parts
from engine.song.reader import read_song
from engine.song.set_list import read_set
from engine.song.writer import set_part, set_tonight, write_song

SONG = """title = "Pier"
key = "C"
tempo = 100

[sections.Verse]
texture = "lean"   # few notes
bars = "| C | F |"

[sections."Last Verse"]
bars = "| G7 | C |"
"""
SET = 'title = "Harbour Room"\nbass = true\n\n[[songs]]\nfile = "pier.toml"\n'

VALUES = {
    "method": VOICING["method"], "texture": VOICING["texture"], "hands": VOICING["hands"], "sound": VOICING["sound"],
    "bass": ("yes", "no"), "comp": ("charleston", "held"), "left_hand": LEFT_HAND_CHOICES,
    "tune_is": ("theirs", "mine"),
}  # fmt: skip
SAID = st.dictionaries(
    st.sampled_from(["Verse", "Last Verse"]),
    st.fixed_dictionaries({}, optional={key: st.sampled_from(("", *words)) for key, words in VALUES.items()}),
)


def pier() -> Song:
    return read_song(SONG, "pier.toml")


def tonight(text: str) -> Song:
    return read_set(text, "set.toml", lambda _: SONG).songs[0].song


def test_every_value_of_a_section_is_tried_here() -> None:
    assert sorted(VALUES) == sorted(PART_KEYS)


def test_a_song_says_what_its_sections_say() -> None:
    assert parts_of(pier().parts) == {"Verse": {"texture": "lean"}}
    assert with_part(pier(), "Verse", "texture", "").parts == ""


def test_a_section_that_the_song_does_not_have_changes_nothing() -> None:
    assert with_part(pier(), "Bridge", "texture", "full") == pier()


@given(SAID, SAID)
def test_the_differences_of_two_ways_to_play_lead_from_one_to_the_other(
    one: dict[str, dict[str, str]], other: dict[str, dict[str, str]]
) -> None:
    first, second = with_parts(pier(), one), with_parts(pier(), other)
    assert with_parts(first, differences(first.parts, second.parts)) == second


@given(SAID)
def test_tonights_sections_come_back_from_the_sets_entry(said: dict[str, dict[str, str]]) -> None:
    wanted = with_parts(pier(), said)
    changed = differences(pier().parts, wanted.parts)
    text = set_tonight(SET, 1, manner={"parts": json.dumps(changed) if changed else ""})
    assert tonight(text).parts == wanted.parts


@given(SAID)
def test_a_written_song_keeps_what_its_sections_say(said: dict[str, dict[str, str]]) -> None:
    wanted = with_parts(pier(), said)
    assert read_song(write_song(wanted), "pier.toml").parts == wanted.parts


@pytest.mark.parametrize("key", PART_KEYS)
def test_a_value_for_good_stands_in_its_section_and_all_else_stays(key: str) -> None:
    value = VALUES[key][-1]
    text = set_part(SONG, "Last Verse", {key: value})
    assert write_song(read_song(text, "")) == write_song(with_part(pier(), "Last Verse", key, value))
    assert write_song(read_song(set_part(text, "Last Verse", {key: ""}), "")) == write_song(pier())
    assert "# few notes" in text


def test_a_section_that_is_gone_is_said() -> None:
    with pytest.raises(ChartError, match="no section Bridge any more"):
        set_part(SONG, "Bridge", {"texture": "full"})


def test_a_slip_in_tonights_section_is_said_where_it_stands() -> None:
    with pytest.raises(ChartError, match="did you mean lean"):
        tonight(SET + 'sections = { Verse = { texture = "laen" } }\n')


@pytest.mark.parametrize(("said", "bass"), [("", True), ("bass = false\n", False), ('bass = "set"\n', True)])
def test_the_songs_own_bass_player_wins_over_the_sets(said: str, bass: bool) -> None:
    set_list = read_set(SET + said, "set.toml", lambda _: SONG)
    assert request_for(set_list.songs[0].song, set_list, (200.0, 200.0)).bass is bass


def test_a_song_without_a_bass_player_comes_back_as_written() -> None:
    alone = replace(pier(), bass="no")
    assert read_song(write_song(alone), "").bass == "no"
