"""Places in a song as played."""

from dataclasses import replace

import pytest

from engine.song.model import Step
from engine.song.reader import read_song
from tests.tui import charts
from tui.session.steps import bar_starts, bracketed, same_place


def steps_of(*bars: str, roadmap: tuple[str, ...] = ("Verse", "Verse")) -> tuple[Step, ...]:
    return charts.unfold(charts.song("Pier", charts.section("Verse", *bars), roadmap=roadmap))


PLAYED = steps_of("Dm7 G7", "Cmaj7", "Am7")


def test_a_place_is_the_same_bar_of_the_same_pass_after_a_bar_got_other_chords() -> None:
    assert same_place(PLAYED, 6, steps_of("Dm7", "Cmaj7", "Am7")) == 4
    assert same_place(PLAYED, 6, steps_of("Dm7 G7", "Em7 A7", "Am7")) == 7


def test_a_beat_without_a_chord_of_its_own_is_the_chord_that_sounds_there() -> None:
    assert same_place(PLAYED, 1, steps_of("Dm7", "Cmaj7", "Am7")) == 0


def test_a_bar_that_is_gone_is_the_nearest_place_and_the_end_stays_the_end() -> None:
    short = steps_of("Dm7 G7", roadmap=("Verse",))
    assert same_place(PLAYED, 7, short) == 2
    assert same_place(PLAYED, 8, short) == 2
    assert same_place(short, 2, PLAYED) == 8


def test_the_same_steps_are_the_same_place() -> None:
    assert same_place(PLAYED, 5, PLAYED) == 5
    assert same_place(PLAYED, 5, tuple(replace(step) for step in PLAYED)) == 5


def test_the_chart_has_a_bar_for_each_measure() -> None:
    assert len(bar_starts(charts.unfold(charts.HARBOUR))) == 21


@pytest.mark.parametrize(("pickup", "second"), [("", 3), ("pickup = 1\n", 2)])
def test_bars_under_a_bracket_are_counted_from_one_and_a_pickup_is_bar_0(pickup: str, second: int) -> None:
    song = read_song(
        f"""\
title = "Pier"
key = "C"
meter = "4/4"
[sections.Verse]
{pickup}bars = "| G7 [1. C :|| [2. Am ||"
""",
        "",
    )
    assert bracketed(song) == {("Verse", second - 1), ("Verse", second)}
