"""The page of one song: each value for tonight or for good, the hands' reach, and what a change does to the effort."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from engine.performance.events import note_on
from engine.song.model import SetList
from tests.tui import charts
from tests.tui.pretended_clock import plays, set_up
from tests.tui.sets_in_files import SONG
from tests.tui.showing import Player, planner, running, shown, stand_app, text
from tests.tui.waiting import soon
from tui.app import StandApp
from tui.persistence import store
from tui.screens.song.screen import SongScreen


async def to_line(app: StandApp, pilot: Player, name: str) -> SongScreen:
    """Open the page and go to the line that sets this."""
    await pilot.press("tab")
    screen = app.screen
    assert isinstance(screen, SongScreen)
    await pilot.press(*["down"] * [line.name for line in screen.lines()].index(name))
    return screen


def song_in_files(folder: Path) -> Path:
    folder.joinpath("pier.toml").write_text(SONG)
    path = folder / "set.toml"
    path.write_text('title = "Harbour Room"\n\n[[songs]]\nfile = "pier.toml"  # first\n')
    return path


async def test_another_method_is_planned_at_once_and_undone() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await to_line(app, pilot, "method")
        await pilot.press("right")
        assert planner(app).asked[-1][1].method == "shell"
        assert "effort" in shown(app)[0]
        assert "→" in shown(app)[0]
        await pilot.press("u")
        assert app.session.now.here is not None
        assert app.session.now.here.song.method == "auto"
        assert planner(app).asked[-1][1].method == "auto"


@pytest.mark.parametrize(
    ("name", "first", "before"),
    [
        ("method", "shell", "drop2"),
        ("texture", "lean", "full"),
        ("hands", "left", "right"),
        ("sound", "pad", "organ"),
        ("colour", "on", "on"),
        ("left_hand", "root and fifth", "walking"),
        ("tune_is", "mine", "mine"),
    ],
)
async def test_each_value_goes_round_in_both_directions(name: str, first: str, before: str) -> None:
    app = stand_app()
    async with running(app) as pilot:
        await to_line(app, pilot, name)
        await pilot.press("right")
        assert getattr(app.session.now.songs[0].song, name) == first
        await pilot.press("left", "left")
        assert getattr(app.session.now.songs[0].song, name) == before


async def test_a_rhythm_for_tonight_stands_in_every_step() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await to_line(app, pilot, "comp")
        await pilot.press("right")
        assert app.session.now.songs[0].song.comp == "whole"
        await pilot.press("left")
        assert app.session.now.songs[0].song.comp == "held"


async def test_tonights_value_is_written_into_the_sets_entry_and_undone_to_the_letter(tmp_path: Path) -> None:
    path = song_in_files(tmp_path)
    before = path.read_text()
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await to_line(app, pilot, "method")
        await pilot.press("right")
        assert "its own file has auto" in text(app)
        await app.files.autosave.save()
        assert path.read_text() == before.replace("# first\n", '# first\nvoicing = {method = "shell"}\n')
        await pilot.press("u")
        await app.files.autosave.save()
        assert path.read_text() == before


async def test_a_value_for_good_stands_in_the_songs_own_file_until_it_is_undone(tmp_path: Path) -> None:
    path = song_in_files(tmp_path)
    song = path.with_name("pier.toml")
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await to_line(app, pilot, "sound")
        await pilot.press("right", "g")
        await soon(lambda: "in its own file" in shown(app)[0])
        assert store.open_song(song).sound == "pad"
        await pilot.pause()
        await app.files.autosave.save()
        assert store.open_set(path).songs[0].song.sound == "pad"
        await pilot.press("u")
        await app.files.songs.write_back()
        assert song.read_text() == SONG


async def test_a_bass_player_is_planned_with_and_stands_in_the_set(tmp_path: Path) -> None:
    path = song_in_files(tmp_path)
    before = path.read_text()
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await to_line(app, pilot, "set bass")
        await pilot.press("right")
        assert planner(app).asked[-1][1].bass
        await pilot.press("down", "down", "right")
        await app.files.autosave.save()
        horns = app.session.now.set_list.horns
        assert path.read_text() == before.replace('Room"\n', f'Room"\nbass = true\nhorns = ["{horns[0]}"]\n')
        assert store.open_set(path).horns == horns
        await pilot.press("u", "u")
        await app.files.autosave.save()
        assert path.read_text() == before


async def test_a_reach_is_measured_by_the_widest_white_keys() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await to_line(app, pilot, "reach right")
        await pilot.press("enter", *"C E", "enter")
        assert app.own.player.reach == (200.0, 212.0)
        assert planner(app).asked[-1][1].reach == (200.0, 212.0)
        assert "212 mm: 10 white keys, C to E" in text(app)


async def test_a_reach_that_no_hand_has_is_said_and_the_line_stays() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await to_line(app, pilot, "reach left")
        await pilot.press("enter", *"C4 C8", "enter")
        assert "a hand spans" in shown(app)[0]
        assert app.own.player.reach is None


async def test_a_reach_is_taken_from_the_keys_that_are_held() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await to_line(app, pilot, "reach left")
        await plays(pilot, note_on(48), note_on(62))
        assert "held: 188 mm: Enter takes it" in text(app)
        await pilot.press("enter")
        assert app.own.player.reach == (188.0, 200.0)


async def test_where_the_set_says_the_reach_it_is_not_changed_here() -> None:
    app = stand_app(replace(charts.harbour_set(), reach=(190.0, 190.0)))
    async with running(app) as pilot:
        await to_line(app, pilot, "reach left")
        await pilot.press("right")
        assert app.own.player.reach is None
        assert "this set's file says the reach" in shown(app)[0]


async def test_the_page_is_opened_for_a_song_of_the_set() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "down", "tab")
        assert isinstance(app.screen, SongScreen)
        assert "Two Lamps" in shown(app)[0]


async def test_without_a_song_there_is_nothing_to_set() -> None:
    app = stand_app(SetList("Nothing yet"))
    async with running(app) as pilot:
        await pilot.press("tab", "right", "enter", "down", "g")
        assert "no song is open" in text(app)


async def to_section(app: StandApp, pilot: Player, name: str) -> SongScreen:
    """Open the page for the second section, and go to the line that sets this."""
    screen = await to_line(app, pilot, "part")
    await pilot.press("right", "right")
    await pilot.press(*["down"] * [line.name for line in screen.lines()].index(name))
    return screen


@pytest.mark.parametrize(
    ("name", "first"),
    [
        ("method", "auto"), ("texture", "auto"), ("hands", "both"), ("sound", "piano"), ("bass", "yes"),
        ("comp", "held"), ("left_hand", "held"), ("tune_is", "theirs"),
    ],
)  # fmt: skip
async def test_each_value_of_a_section_is_planned_at_once_and_undone(name: str, first: str) -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await to_section(app, pilot, name)
        before, asked = app.session.now.songs[0].song, len(planner(app).asked)
        await pilot.press("right")
        part = next(part for part in app.session.now.songs[0].song.sections if part.name == screen.part)
        assert part.manner == {name: first}
        assert "→" in shown(app)[0]
        # What is held is planned as before.
        assert len(planner(app).asked) > asked or name in ("comp", "left_hand", "tune_is")
        await pilot.press("u")
        assert app.session.now.songs[0].song is before


async def test_a_sections_value_says_what_the_songs_is() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await to_line(app, pilot, "texture")
        await pilot.press("right", "home", "up", "up", "up", "right")
        assert "Intro" in shown(app)[1]
        assert "as the song: lean" in text(app)
        assert re.search(r"bass player +as the song: (yes|no) ", text(app))


async def test_the_picture_shows_the_section_that_is_set() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await to_section(app, pilot, "method")
        assert "Verse bar 1" in text(app)


async def test_tonights_section_stands_in_the_sets_entry_and_for_good_in_the_songs_file(tmp_path: Path) -> None:
    path = song_in_files(tmp_path)
    song, before = path.with_name("pier.toml"), path.read_text()
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        screen = await to_line(app, pilot, "part")
        await pilot.press("right")
        await pilot.press(*["down"] * [line.name for line in screen.lines()].index("bass"), "right", "right")
        name = screen.part
        assert "tonight; its own file has as the song" in text(app)
        await app.files.autosave.save()
        assert path.read_text() == before.replace("# first\n", f"# first\nsections = {{{name} = {{bass = false}}}}\n")
        assert store.open_set(path).songs[0].song.sections[0].manner == {"bass": "no"}
        await pilot.press("g")
        await soon(lambda: "in its own file" in shown(app)[0])
        assert store.open_song(song).sections[0].manner == {"bass": "no"}
        await pilot.pause()
        await app.files.autosave.save()
        assert store.open_set(path).songs[0].song.sections[0].manner == {"bass": "no"}
        await pilot.press("u", "u", "u")
        await app.files.songs.write_back()
        await app.files.autosave.save()
        assert song.read_text() == SONG
        assert path.read_text() == before


async def test_a_song_has_a_bass_player_of_its_own() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await to_line(app, pilot, "bass")
        assert "as the set: no" in text(app)
        await pilot.press("right")
        assert planner(app).asked[-1][1].bass
