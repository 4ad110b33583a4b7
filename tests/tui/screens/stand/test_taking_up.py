"""The files changed by another program while the set is open: kept both ways, or chosen value by value."""

from pathlib import Path

import pytest

from tests.tui.sets_in_files import SET, SONG, written
from tests.tui.showing import Player, running, shown, stand_app, waited
from tui.app import StandApp
from tui.persistence import store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return written(tmp_path)


def app_on(path: Path) -> StandApp:
    return stand_app(store.open_set(path), path=path)


async def decided_on_both_sides(pilot: Player, app: StandApp, path: Path) -> None:
    """Take another key here and another tempo in the file, and ask for both."""
    await pilot.press("k", "plus", "2", "enter")
    path.write_text(SET.replace("# slow\n", "# slow\ntempo = 66\n"))
    await pilot.press("w")
    await waited(pilot, app, "Pier a, key: yours D, the file's C: keep both  (or only what the files say)")


async def test_where_nothing_was_decided_w_takes_the_files_up_at_once(path: Path) -> None:
    app = app_on(path)
    async with running(app) as pilot:
        path.with_name("a.toml").write_text(SONG.replace("Pier", "Harbour"))
        await pilot.press("w")
        await waited(pilot, app, "the files are taken up")
        await pilot.press("right")
        assert "1/2  Harbour" in shown(app)[0]


async def test_decisions_of_both_sides_are_kept_together(path: Path) -> None:
    app = app_on(path)
    async with running(app) as pilot:
        await decided_on_both_sides(pilot, app, path)
        await pilot.press("enter")
        await waited(pilot, app, "beside what you decided")
        assert (app.session.now.songs[0].song.key, app.session.now.songs[1].song.tempo) == ("D", 66.0)
        assert "changed" not in app.session.notices


@pytest.mark.parametrize(("keys", "key"), [((), "D"), (("down",), "F")])
async def test_the_same_key_decided_twice_is_chosen_in_one_line(path: Path, keys: tuple[str, ...], key: str) -> None:
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("k", "plus", "2", "enter")
        path.write_text(SET.replace('"a.toml"\n', '"a.toml"\nkey = "F"\n'))
        await pilot.press("w")
        await waited(pilot, app, "keep both")
        await pilot.press("enter")
        await waited(pilot, app, "Pier a, key: yours: D  (or the file's: F)")
        await pilot.press(*keys, "enter")
        await waited(pilot, app, "the files are taken up")
        assert app.session.now.songs[0].song.key == key


async def test_the_files_alone_can_be_taken_and_that_undone(path: Path) -> None:
    app = app_on(path)
    async with running(app) as pilot:
        await decided_on_both_sides(pilot, app, path)
        await pilot.press("down", "enter")
        await waited(pilot, app, "the files are taken up as they stand")
        assert (app.session.now.songs[0].song.key, app.session.now.songs[1].song.tempo) == ("C", 66.0)
        await pilot.press("u")
        assert app.session.now.songs[0].song.key == "D"


async def test_later_leaves_everything_as_it_is(path: Path) -> None:
    app = app_on(path)
    async with running(app) as pilot:
        await decided_on_both_sides(pilot, app, path)
        await pilot.press("escape")
        assert (app.session.now.songs[0].song.key, app.session.now.songs[1].song.tempo) == ("D", 100.0)


async def test_a_bar_changed_elsewhere_while_one_types_is_asked_about(path: Path) -> None:
    app = app_on(path)
    song = path.with_name("a.toml")
    async with running(app) as pilot:
        await pilot.press("b", "e")
        await waited(pilot, app, "Verse bar 1 in C:")
        song.write_text(song.read_text().replace("| Dm7", "| F6"))
        await pilot.press(*["backspace"] * 3, *"Am7", "enter")
        await waited(pilot, app, "Verse bar 1 is now F6 in the file: write yours over it?")
        assert "| F6 |" in song.read_text()
        await pilot.press("enter")
        await waited(pilot, app, "is written into")
        assert "| Am7 |" in song.read_text()


@pytest.mark.parametrize("screen", [(), ("escape",)], ids=["chart", "stand"])
async def test_u_takes_a_bar_edit_back_and_r_writes_it_again(path: Path, screen: tuple[str, ...]) -> None:
    app = app_on(path)
    song = path.with_name("a.toml")
    async with running(app) as pilot:
        await pilot.press("b", "e")
        await waited(pilot, app, "Verse bar 1 in C:")
        await pilot.press(*["backspace"] * 3, *"Am7", "enter")
        await waited(pilot, app, "is written into")
        await pilot.press(*screen, "u")
        assert "undone: Verse bar 1" in shown(app)[0]
        await app.files.songs.write_back()
        assert "undone: Verse bar 1" in shown(app)[0]
        assert "| Dm7 |" in song.read_text()
        await pilot.press("r")
        await app.files.songs.write_back()
        assert "| Am7 |" in song.read_text()


async def test_songs_that_the_file_has_lost_are_asked_about_first(path: Path) -> None:
    app = app_on(path)
    half = SET[: SET.index('\n[[songs]]\nfile = "b.toml"')]
    async with running(app) as pilot:
        for keys, left in (((), 2), (("down",), 1)):
            path.write_text(half)
            await pilot.press("w")
            await waited(pilot, app, "the file lacks Pier b: leave it for now")
            await pilot.press(*keys, "enter")
            await pilot.pause(0.3)
            assert len(app.session.now.songs) == left
