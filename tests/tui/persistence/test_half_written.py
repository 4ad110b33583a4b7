"""Another program is in the middle of writing the set's file while something is decided here: no song is lost."""

import contextlib
from collections.abc import Awaitable, Callable
from pathlib import Path

import pytest

from engine.errors import EngineError
from tests.tui.evening import Evening, evening_on
from tests.tui.sets_in_files import SONG, put
from tui.session import decisions

SONGS = 6
WHOLE = 'title = "Pier"\n' + "".join(f'\n[[songs]]\nfile = "{number}.toml"\n' for number in range(SONGS))
HALVES = {
    "empty": "",
    "without songs": WHOLE[:15],
    "cut in a word": WHOLE[:100],
    "cut between songs": WHOLE[: WHOLE.index("\n[[songs]]", 90)],
}


@pytest.fixture
def path(tmp_path: Path) -> Path:
    for number in range(SONGS):
        put(tmp_path, f"{number}.toml", SONG.replace("Pier", f"Pier {number}"))
    return put(tmp_path, "set.toml", WHOLE)


async def autosave(evening: Evening) -> None:
    await evening.files.autosave.save()


async def merge(evening: Evening) -> None:
    if not await evening.files.others.gone():
        await evening.files.others.merge(lambda clash: None)


async def reload(evening: Evening) -> None:
    if not await evening.files.others.gone():
        await evening.files.others.reload()


async def undo(evening: Evening) -> None:
    evening.session.undo()
    await evening.files.autosave.save()


async def edit_text(evening: Evening) -> None:
    text = evening.files.songs.files.text("0.toml")
    await evening.files.songs.rewrite_text("0.toml", text, text.replace("G7", "Db7"))
    await evening.files.autosave.save()


async def edit_text_and_undo(evening: Evening) -> None:
    await edit_text(evening)
    evening.session.undo()
    await evening.files.songs.write_back()
    await evening.files.autosave.save()


async def keep_key(evening: Evening) -> None:
    await evening.files.songs.keep_key(0, "E")
    await evening.files.autosave.save()


PATHS = (autosave, merge, reload, undo, edit_text, edit_text_and_undo, keep_key)


@pytest.mark.parametrize("half", HALVES)
@pytest.mark.parametrize("go", PATHS)
async def test_no_song_leaves_the_stand_or_the_file(
    path: Path, half: str, go: Callable[[Evening], Awaitable[None]]
) -> None:
    evening = evening_on(path)
    await evening.start()
    path.write_text(HALVES[half])
    evening.session.become(decisions.retimed(evening.session.now, 1, 66.0))
    # What the half file does not allow is said.
    with contextlib.suppress(EngineError):
        await go(evening)
    assert path.read_text() == HALVES[half]
    assert len(evening.session.now.songs) == SONGS
    path.write_text(WHOLE)
    await evening.close()
    assert path.read_text().count("[[songs]]") == SONGS
    assert ("tempo = 66" in path.read_text()) == (go is not undo)


async def test_a_text_that_is_written_meanwhile_is_on_the_stand_and_can_be_undone(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    path.write_text(HALVES["cut in a word"])
    await edit_text(evening)
    assert [step.symbol for step in evening.session.now.steps][:2] == ["Dm7", "Db7"]
    evening.session.undo()
    await evening.files.songs.write_back()
    assert [step.symbol for step in evening.session.now.steps][:2] == ["Dm7", "G7"]
    assert "Db7" not in path.with_name("0.toml").read_text()
    await evening.close()


async def test_a_song_that_stands_in_the_set_twice_is_missed_when_one_is_gone(path: Path) -> None:
    twice = WHOLE + '\n[[songs]]\nfile = "0.toml"\nkey = "F"\n'
    path.write_text(twice)
    evening = evening_on(path)
    await evening.start()
    path.write_text(WHOLE)
    assert await evening.files.others.gone() == ("Pier 0",)
    path.write_text(twice)
    assert not await evening.files.others.gone()
    await evening.close()
