"""What the stand says in words."""

from dataclasses import replace

import pytest

from engine.planning.lineup import request_for
from engine.planning.planner import plan
from engine.song.reader import read_song
from tests.tui import charts
from tests.tui.showing import running, stand_app, text
from tui.screens.stand.view import View
from tui.screens.stand.words import notes_here, own_tune_words, pattern_words


@pytest.mark.parametrize(
    ("note", "bar", "shown"),
    [
        ("softly", 1, ["softly"]), ("Verse bar 2: wait", 2, ["wait"]), ("Verse bar 2: wait", 1, []),
        ("softly\nVerse bar 1: in", 1, ["in", "softly"]), ("mind: the gap", 1, ["mind: the gap"]),
    ],
)  # fmt: skip
def test_notes_stand_where_they_belong(note: str, bar: int, shown: list[str]) -> None:
    steps = charts.unfold(charts.song("X", charts.section("Verse", "C", "F")))
    assert notes_here(note, steps[bar - 1]) == shown


async def test_the_stand_says_when_the_hand_already_holds_the_next_chord() -> None:
    app = stand_app(charts.harbour_set(charts.song("Pairs", charts.section("A", "C7", "C9"))))
    async with running(app, (120, 30)):
        assert "same shape, other name: you already hold C9" in text(app)


async def test_the_rhythm_of_the_bar_stands_in_one_row_of_signs() -> None:
    song = replace(charts.song("Pier", charts.section("A", "C", "F")), comp="charleston")
    async with running(stand_app(charts.harbour_set(song)), (120, 30)) as pilot:
        assert "charleston ○─ ─● ·· ··" in text(pilot.app)


async def test_a_rhythm_that_nobody_knows_stands_by_its_name() -> None:
    song = replace(charts.song("Pier", charts.section("A", "C", "F")), comp="pier walk")
    async with running(stand_app(charts.harbour_set(song)), (120, 30)) as pilot:
        assert "pier walk" in text(pilot.app)


async def test_a_left_hands_pattern_stands_with_its_fingers() -> None:
    song = replace(charts.song("Pier", charts.section("A", "C", "F")), left_hand="1-5-8")
    async with running(stand_app(charts.harbour_set(song)), (120, 30)) as pilot:
        now = pilot.app.session.now
        view = View(now, plan(now.steps))
        assert pattern_words(view) == "left hand 1-5-8 5:C2, 2:G2, 1:C3, 2:G2"
        assert pattern_words(replace(view, plan=None)) == "left hand 1-5-8"


async def test_the_players_own_tune_stands_with_its_fingers() -> None:
    song = read_song(
        """\
title = "Pier"
key = "C"
meter = "4/4"
tempo = 90
tune_is = "mine"
[sections.A]
bars = "| Cmaj7 | Am7 |"
tune = "e4 g2 e2 | c8 |"
""",
        "",
    )
    async with running(stand_app(charts.harbour_set(song)), (120, 30)) as pilot:
        now = pilot.app.session.now
        view = View(now, plan(now.steps, request_for(song, charts.harbour_set(song), (200.0, 200.0))))
        (words,) = own_tune_words(view)
        assert [note.partition(":")[2] for note in words.removeprefix("tune ").split(", ")] == ["E5", "G5", "E5"]
        second = View(replace(now, step=1), view.plan)
        assert own_tune_words(second) == []
