"""A take of what is played, from the key that begins it to the file."""

import io
from datetime import datetime
from pathlib import Path

import pytest
from mido import MidiFile

from engine.performance.events import note_off, note_on
from tests.tui import charts
from tests.tui.pretended_clock import plays, says, set_up
from tests.tui.showing import running, shown
from tests.tui.waiting import soon
from tui.midi.clock import ClockEvent
from tui.persistence.folders import data_folder
from tui.playback.take import take_path


def takes() -> list[Path]:
    return sorted((data_folder() / "takes").glob("*.mid"))


def notes(path: Path) -> list[tuple[str, int]]:
    file = MidiFile(file=io.BytesIO(path.read_bytes()))
    return [(message.type, message.note) for message in file.tracks[0] if message.type.startswith("note")]


async def test_what_is_played_between_two_keys_is_kept_under_the_songs_title() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await plays(pilot, note_on(50), note_off(50))
        await pilot.press("f9")
        assert "TAKE" in app._status()
        await plays(pilot, note_on(60), note_on(64), note_off(60), note_off(64))
        await pilot.press("f9")
        await soon(takes)
        await soon(lambda: "take kept" in app.session.message)
        assert "TAKE" not in app._status()
    (path,) = takes()
    assert path.name.startswith(charts.HARBOUR.title)
    assert notes(path) == [("note_on", 60), ("note_on", 64), ("note_off", 60), ("note_off", 64)]


async def test_a_take_that_is_on_when_the_program_is_left_is_kept() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await pilot.press("f9")
        await plays(pilot, note_on(60), note_off(60))
    assert len(takes()) == 1


async def test_an_empty_take_and_one_without_a_keyboard_are_said_and_leave_no_file() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await pilot.press("f9", "f9")
        assert "nothing came in" in shown(app)[0]
        app.sound.ports.clear()
        await pilot.press("f9")
        assert "choose a port to listen to" in shown(app)[0]
    assert takes() == []


async def test_bars_of_a_song_played_in_time_are_bars_of_the_take() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await pilot.press("f9")
        app.hearing.take._messages = [(20.0, note_on(60))]
        await says(pilot, "beat", 2, at=20.5)
        await says(pilot, "beat", 3, at=21.0)
        await says(pilot, "beat", 3, at=23.5)
        assert app.hearing.take._downbeat == 21.0


def test_a_second_take_of_the_same_moment_and_a_title_no_file_can_have_have_names_of_their_own() -> None:
    now = datetime(2026, 11, 28, 20, 30)
    first = take_path("A/B: \u266d?", now)
    assert "/" not in first.name
    assert ":" not in first.name
    first.parent.mkdir(parents=True)
    first.touch()
    assert take_path("A/B: \u266d?", now) not in (first, None)


@pytest.mark.parametrize("late", [0.05, -0.02])
async def test_a_latency_that_was_measured_is_kept_and_taken_off_how_late_a_hand_comes(late: float) -> None:
    app, clock = set_up()
    async with running(app) as pilot:
        app.context.measure()
        await soon(lambda: "eight clicks" in shown(app)[0])
        await soon(lambda: clock.played)
        for number in range(8):
            await says(pilot, "beat", 2, at=50 + number * 0.6)
            app._heard(ClockEvent("in", 50 + number * 0.6 + late, data=note_on(60)))
        await says(pilot, "end", at=55.0)
        await pilot.pause()
        assert app.own.player.latency == round(late * 1000)
        assert f"latency {round(late * 1000)} ms" in app.session.message


async def test_clicks_that_nobody_answers_measure_nothing() -> None:
    app, _ = set_up(latency=30)
    async with running(app) as pilot:
        app.context.measure()
        for number in range(8):
            await says(pilot, "beat", 2, at=50 + number * 0.6)
        await says(pilot, "end", at=55.0)
        assert "one key with each click" in app.session.message
        assert app.own.player.latency == 30
