"""What was decided the last time can still be undone."""

from pathlib import Path

import pytest

from tests.tui.sets_in_files import written
from tests.tui.showing import Player, running, stand_app, waited
from tui.app import StandApp
from tui.persistence import store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return written(tmp_path)


def app_on(path: Path) -> StandApp:
    return stand_app(store.open_set(path), path=path)


async def undone(app: StandApp, pilot: Player, words: str) -> None:
    await pilot.press("u")
    await waited(pilot, app, words)


async def test_what_was_decided_before_the_program_was_closed_is_undone_step_by_step(path: Path) -> None:
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("k", "E", "b", "enter", "t", "9", "0", "enter")
        await app.files.close()
    app = app_on(path)
    async with running(app) as pilot:
        await undone(app, pilot, "undone, of the last time: tempo")
        assert (app.session.now.songs[0].song.key, app.session.now.songs[0].song.tempo) == ("Eb", 100)
        await pilot.press("t", "8", "0", "enter")
        await app.files.close()
    app = app_on(path)
    async with running(app) as pilot:
        await undone(app, pilot, "undone, of the last time: tempo")
        await undone(app, pilot, "undone, of the last time: key")
        await undone(app, pilot, "nothing to undo")
        await app.files.close()
    song = store.open_set(path).songs[0].song
    assert (song.key, song.tempo) == ("C", 100)


async def test_a_song_dropped_the_last_time_comes_back_and_nobody_has_changed_it(path: Path) -> None:
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("s", "down", "x", "y")
        await app.files.close()
    app = app_on(path)
    async with running(app) as pilot:
        await undone(app, pilot, "undone, of the last time: drop Pier b")
        await app.files.autosave.save()
        assert app.files.set_file.changed_outside() == ()
        assert len(store.open_set(path).songs) == 2


async def test_a_set_that_was_changed_elsewhere_has_nothing_of_the_last_time_to_undo(path: Path) -> None:
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("k", "E", "b", "enter")
        await app.files.close()
    path.write_text(path.read_text().replace('"Eb"', '"F"'))
    app = app_on(path)
    async with running(app) as pilot:
        await undone(app, pilot, "nothing to undo")
        assert app.session.now.songs[0].song.key == "F"


@pytest.mark.parametrize("text", ["", "{", "[[1]]", '[["a", "b", "c", "d", 1]]', "[" * 100_000])
async def test_a_spoilt_file_of_changes_is_none(path: Path, home: Path, text: str) -> None:
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("k", "E", "b", "enter")
        await app.files.close()
    (kept,) = (home / "undo").iterdir()
    kept.write_text(text)
    app = app_on(path)
    async with running(app) as pilot:
        await undone(app, pilot, "nothing to undo")
        assert app.session.now.songs[0].song.key == "Eb"
