"""The song in bars: chords over their effort, pins, loops, bars edited in the song's own file."""

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from textual import events

from tests.tui import charts
from tests.tui.showing import planner, running, shown, stand_app, text, waited
from tui.app import StandApp
from tui.input.prompts import Prompt
from tui.screens.voicings import chosen_words
from tui.session import rehearsal as stand


async def test_the_bars_show_every_chord_over_its_effort() -> None:
    app = stand_app()
    async with running(app, (100, 40)) as pilot:
        await pilot.press("b")
        assert "BARS  Harbour Steps" in shown(app)[0]
        assert "E♭maj7" in text(app)
        assert "Verse, pass 1 of 2" in text(app)
        assert "effort" in text(app)


async def test_the_stand_goes_on_where_the_cursor_was() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "right", "right", "right", "enter")
        assert app.session.now.step == 3


async def test_down_is_the_next_bar() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "down", "down", "down", "down", "enter")
        assert app.session.now.step == 5


async def test_the_hardest_shift_is_one_key_away() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "w", "enter")
        plan = app.plans.current
        assert plan is not None
        assert plan.steps[app.session.now.step].effort == max(step.effort for step in plan.steps)


async def test_another_song_opened_before_other_voicings_are_found_is_not_asked_about_them() -> None:
    app = stand_app()
    async with running(app) as pilot:
        for song in (1, 2, 0):
            app.session.become(replace(app.session.now, step=len(app.session.now.steps) - 2))
            app.stand.look_for_voicings()
            app.session.become(stand.open_song(app.session.now, song))
            await pilot.pause()
            assert app.stand.prompt is None


async def test_up_does_not_go_elsewhere_while_other_voicings_are_looked_for() -> None:
    app = stand_app()
    planner(app).slow.add("alternatives")
    async with running(app) as pilot:
        app.session.become(replace(app.session.now, step=len(app.session.now.steps) - 2))
        before = app.session.now.step
        await pilot.press("o", "up", "down")
        assert app.session.now.step == before
        await pilot.press("left", "up")
        assert app.session.now.step < before - 1, "the chord that was asked about has gone by"


async def test_a_voicing_is_pinned_and_unpinned() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "p")
        assert "pinned as it stands" in shown(app)[0]
        assert app.session.now.here is not None
        assert len(app.session.now.here.song.pins) == 1
        assert "◆" in text(app)
        await pilot.press("p")
        assert app.session.now.here.song.pins == ()


async def test_a_pin_is_asked_of_the_planner() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "p")
        await pilot.pause()
        _, request = planner(app).asked[-1]
        assert len(request.pins) == 1


async def test_a_loop_is_marked_and_the_stand_goes_round_it() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "l", "right", "right", "l", "q", "space", "space", "space")
        assert app.session.now.step == 0
        await pilot.press("b", "l")
        assert app.session.now.loop is None


@pytest.mark.parametrize(("planned", "cost"), [((48, 64), "as planned"), ((), "costs nothing more")])
def test_only_the_voicing_of_the_plan_is_called_planned(planned: tuple[int, ...], cost: str) -> None:
    one = SimpleNamespace(left=(48,), right=(64,), names=("C3", "E4"), price=0.0)
    asked = Prompt("other", subject="0")
    now = stand.opened(charts.harbour_set(), charts.unfold)
    assert chosen_words(asked, (one,), now, planned).question.endswith(f"L C3  R E4  {cost}")


async def test_another_voicing_is_chosen_with_its_price_and_pinned() -> None:
    one = SimpleNamespace(
        left=(48,),
        right=(60, 64),
        left_fingers=(5,),
        right_fingers=(1, 3),
        names=("C3", "C4", "E4"),
        price=0.0,
        pattern=False,
    )
    other = SimpleNamespace(
        left=(48,),
        right=(64, 67),
        left_fingers=(5,),
        right_fingers=(1, 2),
        names=("C3", "E4", "G4"),
        price=2.5,
        pattern=False,
    )
    app = stand_app()
    planner(app).answers["alternatives"] = (one, other)
    async with running(app) as pilot:
        await pilot.press("o")
        await pilot.pause()
        assert "1/2  L C3  R C4 E4  costs nothing more" in shown(app)[0]
        await pilot.press("down")
        assert "2/2  L C3  R E4 G4  costs 2.5 more" in shown(app)[0]
        tried = app.stand.view().tried
        assert tried is not None
        assert [note.key for note in (*tried.left, *tried.right)] == [48, 64, 67]
        await pilot.press("enter")
        assert app.session.now.here is not None
        assert app.session.now.here.song.pins[0].right == (64, 67)


PIER = """\
title = "Pier Lights"   # ours
key = "C"
meter = "4/4"
tempo = 100

[sections.Verse]
bars = "| Dm7 | G7 | Cmaj7 | % |"
"""


@pytest.fixture
def pier(tmp_path: Path) -> StandApp:
    """A set of one song, in files."""
    (tmp_path / "pier.toml").write_text(PIER)
    (tmp_path / "set.toml").write_text('title = "Pier"\n[[songs]]\nfile = "pier.toml"\nkey = "D"\n')
    from tui.persistence import store

    return stand_app(store.open_set(tmp_path / "set.toml"), path=tmp_path / "set.toml")


async def test_a_bar_is_edited_in_the_songs_own_file_and_key(pier: StandApp, tmp_path: Path) -> None:
    async with running(pier) as pilot:
        await pilot.press("b", "right", "e")
        await waited(pilot, pier, "Verse bar 2 in C:")
        await pilot.press("backspace", "backspace", *"Dm7 G7")
        assert "Dm7 2 beats  G7 2 beats" in shown(pier)[0]
        await pilot.press("enter")
        await waited(pilot, pier, "is written into")
        assert (tmp_path / "pier.toml").read_text() == PIER.replace("| G7 |", "| Dm7 G7 |")
        assert [step.symbol for step in pier.session.now.steps][1:3] == ["Em7", "A7"]


async def test_a_faulty_bar_says_what_is_wrong_and_is_not_written(pier: StandApp, tmp_path: Path) -> None:
    async with running(pier) as pilot:
        await pilot.press("b", "e")
        await waited(pilot, pier, "Verse bar 1 in C:")
        await pilot.press(*"xyz", "enter")
        assert "not written: Verse bar 1 in C:" in shown(pier)[0]
        assert shown(pier)[1].startswith("Dm7xyz")
        assert (tmp_path / "pier.toml").read_text() == PIER
        await pilot.press("backspace", "backspace", "backspace", "enter")
        await waited(pilot, pier, "is written into")


async def test_emptying_a_line_and_moving_in_it_do_not_end_it(pier: StandApp, tmp_path: Path) -> None:
    async with running(pier) as pilot:
        await pilot.press("b", "e")
        await waited(pilot, pier, "Verse bar 1 in C:")
        await pilot.press(
            *["backspace"] * 9, *"Am", "left", "B", "b", "right", "home", "delete", "end", "7", "space", "ctrl+w"
        )
        assert "Verse bar 1 in C:" in shown(pier)[0]
        assert shown(pier)[1].strip() == ""
        await pilot.press(*"Am", "ctrl+a", "delete", "B", "end", "7")
        assert shown(pier)[1].strip() == "Bm7"
        assert (tmp_path / "pier.toml").read_text() == PIER


async def test_a_line_takes_what_is_pasted(pier: StandApp) -> None:
    async with running(pier) as pilot:
        await pilot.press("s", "a")
        pier.screen.post_message(events.Paste("songs/low tide.toml\n"))
        await pilot.pause()
        assert "song file to add:" in shown(pier)[0]
        assert shown(pier)[1].startswith("songs/low tide.toml")
