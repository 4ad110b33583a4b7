"""The set: its order, its keys and tempos, its songs."""

from dataclasses import replace
from pathlib import Path

import pytest
from rich.cells import cell_len
from textual import events

from engine.errors import EngineError
from tests.tui import charts
from tests.tui.sets_in_files import SET, SONG, put, written
from tests.tui.showing import running, shown, stand_app, text
from tui.app import StandApp
from tui.persistence import store
from tui.persistence.autosave import SAVE_AFTER
from tui.session import rehearsal as stand


def titles(app: StandApp) -> list[str]:
    return [place.song.title for place in app.session.now.songs]


async def test_the_set_lists_songs_with_key_tempo_and_length() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s")
        assert "SET  Harbour Room" in shown(app)[0]
        assert "3 songs" in shown(app)[0]
        row = next(row for row in shown(app) if "Two Lamps" in row)
        assert row.split()[:6] == ["2", "Two", "Lamps", "Am", "140", "0:07"]


async def test_lengths_are_right_even_if_the_set_is_looked_at_before_all_songs_are_ready() -> None:
    app = stand_app()
    async with running(app) as pilot:
        app.session.now = stand.opened(charts.harbour_set(), charts.unfold, whole=False)
        await pilot.press("s")
        assert "0:00" not in text(app)


async def test_the_set_names_the_hardest_shift_of_each_planned_song() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert "›" in next(row for row in shown(app) if "Harbour Steps" in row)


async def test_a_song_is_opened_from_the_set() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "down", "enter")
        assert "2/3  Two Lamps" in shown(app)[0]


@pytest.mark.parametrize(("key", "order"), [("right", [1, 0, 2]), ("pagedown", [1, 0, 2])])
async def test_a_song_is_moved_later_and_undone(key: str, order: list[int]) -> None:
    app = stand_app()
    async with running(app) as pilot:
        before = titles(app)
        await pilot.press("s", key)
        assert titles(app) == [before[index] for index in order]
        await pilot.press("u")
        assert titles(app) == before
        await pilot.press("r")
        assert titles(app) == [before[index] for index in order]


async def test_the_first_song_cannot_be_moved_earlier() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "left")
        assert "the song stands at that end already" in shown(app)[0]


async def test_a_song_is_dropped_after_a_question() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "down", "x")
        assert "drop Two Lamps from the set?" in shown(app)[0]
        await pilot.press("enter")
        assert titles(app) == ["Harbour Steps", "Slow Ferry"]


async def test_any_other_key_keeps_the_song() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "x", "down")
        assert len(titles(app)) == 3


async def test_a_song_that_is_not_open_gets_another_key_and_tempo() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "down", "down", "k", "e", "enter", "t", "7", "0", "enter")
        song = app.session.now.songs[2].song
        assert (song.key, song.tempo) == ("E", 70.0)
        assert app.session.now.song == 0


async def test_a_song_file_is_added_by_name(tmp_path: Path) -> None:
    from engine.song.writer import write_song

    (tmp_path / "more.toml").write_text(write_song(replace(charts.LAMPS, title="One More")))
    (tmp_path / "set.toml").write_text("")
    app = stand_app(path=tmp_path / "set.toml")
    app.files.set_file._slots = ()
    async with running(app) as pilot:
        await pilot.press("s", "a", *"more.toml", "enter")
        assert titles(app)[-1] == "One More"


async def test_a_file_that_is_not_there_is_said(tmp_path: Path) -> None:
    (tmp_path / "set.toml").write_text("")
    app = stand_app(path=tmp_path / "set.toml")
    app.files.set_file._slots = ()
    async with running(app) as pilot:
        await pilot.press("s", "a", *"none.toml", "enter")
        assert "no such file" in shown(app)[0]
        assert len(titles(app)) == 3


@pytest.mark.parametrize("name", ["x" * 300 + ".toml", "/".join(["x" * 200] * 30), "~nobody-of-that-name/a.toml", "."])
async def test_a_name_that_no_file_can_have_is_said(tmp_path: Path, name: str) -> None:
    (tmp_path / "set.toml").write_text("")
    app = stand_app(path=tmp_path / "set.toml")
    app.files.set_file._slots = ()
    async with running(app) as pilot:
        await pilot.press("s", "a")
        app.screen.post_message(events.Paste(name))
        await pilot.press("enter")
        assert "add" in shown(app)[0]
        assert len(titles(app)) == 3
        with pytest.raises(EngineError):
            app.files.save_copy(name)


async def test_a_song_whose_file_is_gone_is_kept_and_marked() -> None:
    app = stand_app(replace(charts.harbour_set(), missing=(("songs/gone.toml", "there is no such file"),)))
    async with running(app) as pilot:
        await pilot.press("s")
        assert "songs/gone.toml: there is no such file" in text(app)


async def test_a_song_played_to_its_end_is_ticked() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "t", "space", "s")
        assert "✓" in next(row for row in shown(app) if "Harbour Steps" in row)
        assert "1 played through" in shown(app)[0]


async def test_a_title_of_300_letters_and_wide_letters_keep_the_picture_whole() -> None:
    songs = (replace(charts.LAMPS, title="x" * 300), replace(charts.FERRY, title="渡し船 מעבורת"))
    app = stand_app(charts.harbour_set(*songs))
    async with running(app) as pilot:
        for keys in (("s",), ("s", "full_stop"), ("space",)):
            await pilot.press(*keys)
            strips = app.screen._compositor.render_strips(app.size)
            assert {strip.cell_length for strip in strips} == {80}


async def test_wide_letters_in_a_title_leave_the_keys_in_one_column() -> None:
    songs = (replace(charts.LAMPS, title="渡し船の歌", key="Bb"), replace(charts.FERRY, title="Ferry", key="Bb"))
    app = stand_app(charts.harbour_set(*songs))
    async with running(app) as pilot:
        await pilot.press("s")
        rows = [row for row in shown(app) if row.lstrip()[:1] in ("1", "2")]
        places = {cell_len(row[: row.index("B♭")]) for row in rows}
        assert len(places) == 1


async def test_a_long_note_of_a_song_is_read_whole_in_the_set() -> None:
    note = "start from the bridge if the singer is late, then twice round the tag and out on the cue of the drums"
    app = stand_app(charts.harbour_set(replace(charts.LAMPS, note=note)))
    async with running(app) as pilot:
        await pilot.press("s")
        assert note in " ".join(text(app).split())


async def test_a_song_is_chosen_from_those_of_the_folder(tmp_path: Path) -> None:
    path = written(tmp_path)
    for name in ("ferry", "quay"):
        put(tmp_path / "songs", f"{name}.toml", SONG.replace("Pier", name.title()))
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("s", "a")
        assert "songs/ferry.toml   Ferry" in text(app)
        await pilot.press("down", "enter")
        assert titles(app) == ["Pier a", "Pier b", "Quay"]
        await pilot.press("u", "a", *"ferr", "enter")
        assert titles(app) == ["Pier a", "Pier b", "Ferry"]
        await app.files.autosave.save()
        assert path.read_text().endswith('\n[[songs]]\nfile = "songs/ferry.toml"\n')


async def test_a_new_song_gets_a_file_of_its_own_and_is_open(tmp_path: Path) -> None:
    path = written(tmp_path)
    put(tmp_path, "oere-sund.toml")
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("s", "n", *"Øre Sund", "enter")
        assert titles(app)[-1] == "Øre Sund"
        assert (tmp_path / "re-sund.toml").exists()
        await pilot.press("escape", "u")
        assert titles(app) == ["Pier a", "Pier b"]


async def test_the_sets_title_is_changed_and_undone(tmp_path: Path) -> None:
    path = written(tmp_path)
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("s", "i", "backspace", *"rs", "enter")
        assert "SET  Piers" in shown(app)[0]
        await pilot.pause(SAVE_AFTER + 0.1)
        assert path.read_text() == SET.replace('"Pier"', '"Piers"')
        await pilot.press("u")
        await app.files.autosave.save()
        assert path.read_text() == SET


async def test_a_set_is_copied_beside_itself_and_goes_on(tmp_path: Path) -> None:
    path = written(tmp_path)
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("s", "c")
        assert shown(app)[1].strip() == "set-2.toml"
        await pilot.press("enter")
        assert "copied to set-2.toml" in shown(app)[0]
        assert (tmp_path / "set-2.toml").read_text() == SET
        await pilot.press("right")
        await app.files.autosave.save()
        assert path.read_text() != SET
        assert (tmp_path / "set-2.toml").read_text() == SET


async def test_a_set_is_not_copied_over_another_file(tmp_path: Path) -> None:
    path = written(tmp_path)
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        await pilot.press("s", "c", *["backspace"] * 10, *"a", "enter")
        assert "there is a file of that name already" in shown(app)[0]
