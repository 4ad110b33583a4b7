"""A song made from nothing with keys alone, and written anew section by section; every step can be undone."""

from pathlib import Path

import pytest

from engine.planning.planner import plan
from engine.song.reader import read_song
from tests.tui.sets_in_files import pier, written
from tests.tui.showing import Player, running, shown, stand_app, text, waited
from tui.app import StandApp
from tui.persistence import store
from tui.screens.form.screen import FormScreen


def app_on(path: Path) -> StandApp:
    return stand_app(store.open_set(path), path=path)


async def line(pilot: Player, *keys: str, typed: str = "") -> None:
    """Press keys, and then write a line."""
    await pilot.press(*keys)
    await pilot.press(*typed, *(["enter"] if typed else []))
    await pilot.pause(0.05)


async def test_a_whole_song_is_made_from_nothing_and_planned(tmp_path: Path) -> None:
    app = app_on(written(tmp_path))
    file = tmp_path / "pier-head.toml"
    async with running(app) as pilot:
        await line(pilot, "s", "n", typed="Pier Head")
        await waited(pilot, app, "pier-head.toml is written")
        await line(pilot, "down", "enter", typed="F")
        await line(pilot, "down", "enter", typed="3/4")
        await line(pilot, "down", "enter", typed="132")
        await line(pilot, "down", "right")
        await line(pilot, "down", "right")
        await line(pilot, "down", "enter", *["backspace"] * 5, typed="Intro, Verse x2, Tag")
        await waited(pilot, app, "roadmap Intro, Verse x2, Tag; u takes it back")
        assert isinstance(app.screen, FormScreen)
        assert app.screen.heading() == ("WRITE  pier-head.toml", "3 sections, 12 bars")
        assert read_song(file.read_text(), "").roadmap == ("Intro", "Verse", "Verse", "Tag")
        # The bars: the intro's first bar is written anew, two are put in after it, one is taken out.
        await line(pilot, "b", *["up"] * 9, "e", *["backspace"] * 9, typed="Gm7 / C7")
        await line(pilot, "i", typed="Fmaj7 | Bb6")
        await line(pilot, "down", "down", "down", "x")
        await waited(pilot, app, "Intro bar 4 taken out")
        song = app.session.now.songs[-1].song
        assert (song.title, song.key, str(song.meter), song.tempo) == ("Pier Head", "F", "3/4", 132.0)
        assert (song.feel, song.count) == ("swing", "two bars")
        bars = next(part for part in song.sections if part.name == "Intro").bars
        assert [[event.symbol for event in bar.events] for bar in bars] == [
            ["Gm7", "C7"], ["Fmaj7"], ["Bb6"], ["Gm7", "C7"], ["Gm7", "C7"]
        ]  # fmt: skip
        assert app.session.now.here is app.session.now.songs[-1]
        assert app.plans.current is not None
        assert len(plan(app.session.now.steps).steps) == len(app.session.now.steps) > 10
        await app.files.autosave.save()
        assert (tmp_path / "set.toml").read_text().endswith('[[songs]]\nfile = "pier-head.toml"\n')
        assert store.open_set(tmp_path / "set.toml").songs[-1].song == read_song(file.read_text(), str(file))


@pytest.mark.parametrize(
    ("keys", "typed", "roadmap", "bars"),
    [
        (("n",), "Quay", ("Quay", "Bridge"), [4, 4]), (("c",), "Verse b", ("Verse", "Verse b", "Bridge"), [4, 4, 4]),
        (("s",), "3 Answer", ("Verse", "Answer", "Bridge"), [2, 2, 4]),
        (("a",), "Tag", ("Verse", "Tag", "Bridge"), [4, 4, 4]),
        (("x", "enter"), "", ("Bridge",), [4]),
    ],
)  # fmt: skip
async def test_sections_are_changed_by_one_key_and_undone(
    tmp_path: Path, keys: tuple[str, ...], typed: str, roadmap: tuple[str, ...], bars: list[int]
) -> None:
    app = app_on(pier(tmp_path))
    song = tmp_path / "pier.toml"
    before = song.read_text()
    async with running(app) as pilot:
        await line(pilot, "b", "f", *["down"] * 7)
        await line(pilot, *keys, typed=typed)
        await waited(pilot, app, "u takes it back")
        found = read_song(song.read_text(), "")
        assert (found.roadmap, [len(part.bars) for part in found.sections]) == (roadmap, bars)
        assert app.session.now.songs[0].song.roadmap == roadmap
        await pilot.press("u")
        await app.files.songs.write_back()
        assert song.read_text() == before
        assert app.session.now.songs[0].song.roadmap == ("Verse", "Bridge")
        await pilot.press("r")
        await app.files.songs.write_back()
        assert read_song(song.read_text(), "").roadmap == roadmap


async def test_tonights_pins_go_with_a_section_that_gets_another_name(tmp_path: Path) -> None:
    path = pier(tmp_path)
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("b", "down", "p")
        await line(pilot, "f", *["down"] * 7, "n", typed="Quay")
        await waited(pilot, app, "name: Quay")
        assert [pin.place[:2] for pin in app.session.now.songs[0].song.pins] == [("Quay", 2)]
        await app.files.autosave.save()
        assert 'section = "Quay"' in path.read_text()
        await pilot.press("u")
        await app.files.songs.write_back()
        await app.files.autosave.save()
        assert 'section = "Verse"' in path.read_text()
        assert [pin.place[:2] for pin in app.session.now.songs[0].song.pins] == [("Verse", 2)]


async def test_a_fault_is_shown_while_it_is_typed_and_nothing_is_lost(tmp_path: Path) -> None:
    app = app_on(pier(tmp_path))
    async with running(app) as pilot:
        await pilot.press("b", "f", "down", "enter", *"Q")
        assert "write it as Eb, F# or Cm" in shown(app)[0]
        await pilot.press("enter")
        assert "write it as Eb, F# or Cm" in shown(app)[0]
        assert shown(app)[1].strip() == "Q"
        await pilot.press("escape")
        assert 'key = "C"' in (tmp_path / "pier.toml").read_text()


async def test_tab_moves_the_chords_into_the_key_that_is_typed(tmp_path: Path) -> None:
    app = app_on(pier(tmp_path))
    async with running(app) as pilot:
        await pilot.press("b", "f", "down", "enter", "D", "tab")
        await waited(pilot, app, "key D for good")
        assert "| Em7 | A7 | Dmaj7 | % |" in (tmp_path / "pier.toml").read_text()


async def test_a_roadmap_name_that_is_nearly_a_section_is_a_slip_and_makes_none(tmp_path: Path) -> None:
    app = app_on(pier(tmp_path))
    async with running(app) as pilot:
        await pilot.press("b", "f", *["down"] * 6, "enter", *", Brigde")
        assert "did you mean Bridge?" in shown(app)[0]


async def test_a_section_is_opened_as_text_at_its_bars(tmp_path: Path) -> None:
    app = app_on(pier(tmp_path))
    async with running(app) as pilot:
        await pilot.press("b", "f", *["down"] * 8, "enter")
        await waited(pilot, app, "EDIT  pier.toml")
        assert app.screen._area.cursor_location[0] == 10  # type: ignore[attr-defined]


async def test_a_file_with_faults_is_said_and_opened_as_text(tmp_path: Path) -> None:
    app = app_on(pier(tmp_path))
    async with running(app) as pilot:
        await pilot.press("b", "f")
        song = tmp_path / "pier.toml"
        song.write_text(song.read_text().replace("Em7", "Hxx"))
        await pilot.press("down")
        assert "Hxx is no chord symbol" in text(app)
        await pilot.press("enter")
        await waited(pilot, app, "1 fault")
