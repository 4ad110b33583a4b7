"""A song's own file written by hand, and a song with a fault that stays in its place until it is mended."""

from pathlib import Path

import pytest

from tests.tui.sets_in_files import SONG, put, written
from tests.tui.showing import Player, running, shown, stand_app, text, waited
from tui.app import StandApp
from tui.persistence import store

FAULTY = SONG.replace("| G7 |", "| Gxyz |").replace("Pier", "Pier b")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return written(tmp_path)


def app_on(path: Path) -> StandApp:
    return stand_app(store.open_set(path), path=path)


async def typed(app: StandApp, pilot: Player, *keys: str) -> None:
    await pilot.pilot.press(*keys)
    await pilot.pause(0.05)


async def test_a_song_is_edited_as_text_and_the_edit_undone(path: Path) -> None:
    app = app_on(path)
    song = path.with_name("a.toml")
    before = song.read_text()
    async with running(app) as pilot:
        await pilot.press("b", "t")
        await waited(pilot, app, "EDIT  a.toml")
        await typed(app, pilot, "end", "left", "s", "ctrl+s")
        await waited(pilot, app, "Pier as is written; u takes it back")
        assert song.read_text() == before.replace("Pier a", "Pier as")
        assert app.session.now.songs[0].song.title == "Pier as"
        await pilot.press("u")
        await app.files.songs.write_back()
        assert song.read_text() == before
        assert app.session.now.songs[0].song.title == "Pier a"


async def test_a_fault_is_shown_while_it_is_typed_and_not_saved(path: Path) -> None:
    app = app_on(path)
    song = path.with_name("a.toml")
    before = song.read_text()
    async with running(app) as pilot:
        await pilot.press("b", "t")
        await waited(pilot, app, "reads without a fault")
        await typed(app, pilot, "ctrl+end", "backspace", "backspace", *"| X7", "quotation_mark")
        await waited(pilot, app, "1 fault")
        await typed(app, pilot, "ctrl+s")
        assert "not saved: mend the fault first" in text(app)
        assert song.read_text() == before
        await typed(app, pilot, "escape")
        assert "not saved: Esc again" in text(app)
        await typed(app, pilot, "escape")
        assert "BARS" in shown(app)[0]


async def test_a_file_whose_lines_end_in_several_ways_is_not_changed_by_opening_it(path: Path) -> None:
    song = path.with_name("a.toml")
    song.write_bytes(song.read_bytes().replace(b"\n", b"\r\n", 2))
    before = song.read_bytes()
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("b", "t")
        await waited(pilot, app, "EDIT  a.toml")
        assert "changed" not in shown(app)[0]
        await typed(app, pilot, "ctrl+s")
        assert "BARS" in shown(app)[0]
    assert song.read_bytes() == before


async def test_a_song_with_a_fault_stays_in_its_place_and_is_mended_there(path: Path) -> None:
    song = put(path.parent, "b.toml", FAULTY)
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("left")
        assert "1/2" in shown(app)[0]
        await pilot.press("s", "down")
        assert "Gxyz" in text(app)
        await pilot.press("e")
        await waited(pilot, app, "1 fault")
        assert app.screen._area.cursor_location[0] == FAULTY[: FAULTY.index("Gxyz")].count("\n")  # type: ignore[attr-defined]
        await typed(app, pilot, *["delete"] * 4, *"G7", "ctrl+s")
        await waited(pilot, app, "is written")
        assert "| G7 |" in song.read_text()
        assert len(app.session.now.songs) == 2
        await pilot.press("u")
        await app.files.songs.write_back()
        assert song.read_text() == FAULTY


async def test_a_song_with_a_fault_is_told_on_opening_and_whenever_it_is_passed_over(path: Path) -> None:
    put(path.parent, "b.toml", FAULTY)
    path.write_text(path.read_text() + '[[songs]]\nfile = "c.toml"\n')
    put(path.parent, "c.toml", SONG)
    app = app_on(path)
    async with running(app) as pilot:
        assert "song 2 does not open; s shows why" in shown(app)[0]
        await pilot.press("full_stop")
        assert "passed over: song 2 does not open" in shown(app)[0]
        await pilot.press("comma")
        assert "passed over: song 2 does not open" in shown(app)[0]
        await pilot.press("e")
        while app.session.now.song == 0:
            await pilot.press("space")
        assert "passed over: song 2 does not open" in shown(app)[0]


async def test_the_whole_fault_stands_below_the_set_and_below_the_text(path: Path) -> None:
    put(path.parent, "b.toml", FAULTY)
    app = app_on(path)
    async with running(app, (60, 20)) as pilot:
        why = " ".join(app.session.now.set_list.missing[0][1].splitlines()[0].split())
        await pilot.press("s", "down")
        assert why in " ".join(text(app).split())
        assert "e mends it here, Del drops it" in " ".join(text(app).split())
        await pilot.press("e")
        await waited(pilot, app, "1 fault")
        assert why.split(": ", 1)[1] in " ".join(text(app).split())


async def test_a_text_opens_with_the_words_before_its_fault(path: Path) -> None:
    put(path.parent, "b.toml", FAULTY)
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("s", "down", "e")
        await waited(pilot, app, "1 fault")
        assert app.screen._area.scroll_x == 0  # type: ignore[attr-defined]


async def test_a_song_with_a_fault_is_dropped_and_brought_back(path: Path) -> None:
    put(path.parent, "b.toml", FAULTY)
    before = path.read_text()
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("s", "down", "delete", "enter")
        await app.files.autosave.save()
        assert "b.toml" not in path.read_text()
        await pilot.press("u")
        await app.files.autosave.save()
        assert path.read_text() == before


async def test_a_fault_is_underlined_where_it_stands_and_a_symbol_completed(path: Path) -> None:
    app = app_on(path)
    async with running(app) as pilot:
        await pilot.press("b", "t")
        await waited(pilot, app, "reads without a fault")
        await typed(app, pilot, *["down"] * 5, "end", "left", *" X7 | Cma")
        await waited(pilot, app, "Tab = Cmaj7")
        await typed(app, pilot, "tab")
        assert app.screen._area.text.endswith('% | X7 | Cmaj7"\n')  # type: ignore[attr-defined]
        line = app.screen._area.get_line(5)  # type: ignore[attr-defined]
        marked = [line.plain[span.start : span.end] for span in line.spans if getattr(span.style, "underline", False)]
        assert marked == ["X7"]
