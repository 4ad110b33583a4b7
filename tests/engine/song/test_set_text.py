"""A set file changed in pieces, whichever way it lists its songs."""

import tomllib
from dataclasses import replace
from fractions import Fraction

import pytest

from engine.song.model import Pin
from engine.song.writer import add_song, drop_song, move_song, set_pins, set_tonight

PIN = Pin("Verse", 1, Fraction(1), (39,), (55, 62))
HEADED = 'title = "x"\n[[songs]]\nfile = "a.toml"\n\n# Ines sings\n[[songs]]\nfile = "b.toml"\n'
LISTED = """\
title = "x"
songs = [
  { file = "a.toml" },   # opener
  { file = "b.toml", key = "D" },
  { file = "c.toml" },
]
note = "n"
"""


def test_a_wish_for_tonight_stands_above_the_next_songs_remarks() -> None:
    assert set_tonight(HEADED, 1, key="D").splitlines()[2:5] == ['file = "a.toml"', 'key = "D"', ""]


@pytest.mark.parametrize(
    "song",
    [
        '[[songs]]\nfile = "a.toml"',
        '[[songs]]\nfile = "a.toml"\npins = [ { section = "Verse", left = "C2" }, ]\n',
        'songs = [ { file = "a.toml" } ]\n',
        'songs = [ { file = "a.toml", pins = [ ] } ]',
    ],
)
def test_a_pin_is_added_however_the_set_lists_its_songs(song: str) -> None:
    changed = set_pins(song, 1, [PIN, replace(PIN, bar=2)], [])
    assert [pin["bar"] for pin in tomllib.loads(changed)["songs"][0]["pins"]] == [1, 2]


def test_the_line_ends_of_a_set_stay_as_its_editor_writes_them() -> None:
    text = add_song(set_pins(set_tonight(HEADED.replace("\n", "\r\n"), 1, key="B"), 2, [PIN], []), "c.toml")
    assert text.count("\n") == text.count("\r\n")


@pytest.mark.parametrize(
    ("changed", "order"),
    [
        (move_song(LISTED, 3, 1), ["c", "a", "b"]),
        (move_song(LISTED, 1, 3), ["b", "c", "a"]),
        (drop_song(LISTED, 2), ["a", "c"]),
        (add_song(LISTED, "d.toml"), ["a", "b", "c", "d"]),
        (add_song(LISTED, "d.toml", 1), ["d", "a", "b", "c"]),
        (add_song("songs = []\n", "d.toml"), ["d"]),
        (set_tonight(LISTED, 1, key="F"), ["a", "b", "c"]),
    ],
)
def test_songs_that_are_listed_in_brackets_can_be_changed_too(changed: str, order: list[str]) -> None:
    assert [song["file"].removesuffix(".toml") for song in tomllib.loads(changed)["songs"]] == order


@pytest.mark.parametrize("text", [LISTED, HEADED])
def test_the_mark_that_an_editor_puts_before_a_set_is_no_obstacle_and_stays(text: str) -> None:
    changed = move_song(set_tonight(f"\ufeff{text}", 1, key="B"), 1, 2)
    assert changed == f"\ufeff{move_song(set_tonight(text, 1, key='B'), 1, 2)}"
