"""Bars, minutes and form of a song as played."""

import pytest

from engine.song.length import clock, form, played_bars, seconds
from engine.song.reader import read_song
from engine.song.unfolding import unfold
from tests.engine.song.songs import LANTERN, short


@pytest.mark.parametrize(
    ("bars", "head", "expected"),
    [
        ("| C | F |", "", 2),
        ("||: C | F G :|| x3", "", 6),
        ("||: C [1. F :|| [2. G ||", "", 4),
        ("G7 | C | % |", "pickup = 1", 2),
        ("| C | (3/4) F | N.C. |", "", 3),
        ("| C / /(stop) / |", "", 1),
    ],
)
def test_bars_are_counted_as_played(bars: str, head: str, expected: int) -> None:
    assert played_bars(unfold(read_song(short(bars, head), ""))) == expected


@pytest.mark.parametrize(
    ("meter", "tempo", "expected"),
    [("4/4", 60, 8.0), ("3/4", 60, 6.0), ("6/8", 60, 4.0), ("7/8", 60, 7.0), ("2/2", 60, 8.0), ("12/8", 120, 4.0)],
)
def test_two_bars_last_as_their_beats_say(meter: str, tempo: int, expected: float) -> None:
    text = f'title = "A"\nkey = "C"\nmeter = "{meter}"\ntempo = {tempo}\n[sections.A]\nbars = "| C | F |"\n'
    song = read_song(text, "")
    assert seconds(song, unfold(song)) == pytest.approx(expected)


def test_the_form_is_said_in_one_line() -> None:
    assert form(read_song(LANTERN, "")) == "Intro, Verse x2, Bridge, Verse, Tag x3: 44 bars, 1:55 at 92"


@pytest.mark.parametrize(
    ("duration", "words"), [(0, "0:00"), (73.4, "1:13"), (59.6, "1:00"), (600, "10:00"), (3730, "1:02:10")]
)
def test_time_is_said_in_minutes_and_seconds(duration: float, words: str) -> None:
    assert clock(duration) == words
