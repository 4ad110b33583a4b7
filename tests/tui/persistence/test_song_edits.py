"""A bar written anew in the song's own file, and undone like every other decision."""

import asyncio
from dataclasses import replace
from pathlib import Path

import pytest

from tests.tui.evening import Evening, evening_on
from tests.tui.sets_in_files import SONG, written
from tui.persistence import store
from tui.persistence.files import SHIPPED
from tui.persistence.song_files import BarTaken
from tui.session import decisions
from tui.session import rehearsal as stand


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return written(tmp_path)


async def edit(evening: Evening, step: int, chords: str) -> None:
    here = evening.session.now.steps[step]
    bar = evening.files.songs.written(here)
    await evening.files.songs.rewrite(here, chords, bar.text)


def bars(path: Path, name: str = "a") -> str:
    return path.with_name(f"{name}.toml").read_text().splitlines()[-1]


def chords(evening: Evening) -> list[str]:
    return [step.symbol for step in evening.session.now.steps]


async def test_undo_and_redo_write_the_bar_back_and_anew(path: Path) -> None:
    evening = evening_on(path)
    await edit(evening, 1, "Dm7  G7")
    assert bars(path) == 'bars = "| Dm7 | Dm7  G7 | Cmaj7 | % |"'
    assert evening.session.undo() == "Verse bar 2"
    assert chords(evening) == ["Dm7", "G7", "Cmaj7", "Cmaj7"]
    await evening.files.songs.write_back()
    assert path.with_name("a.toml").read_text() == SONG.replace("Pier", "Pier a")
    evening.session.redo()
    await evening.files.songs.write_back()
    assert bars(path) == 'bars = "| Dm7 | Dm7  G7 | Cmaj7 | % |"'
    assert chords(evening)[1:3] == ["Dm7", "G7"]
    await evening.close()


async def test_bars_of_two_songs_are_undone_in_their_order_between_other_decisions(path: Path) -> None:
    evening = evening_on(path)
    await edit(evening, 0, "Am7")
    evening.session.become(decisions.transposed(evening.session.now, 0, "D", evening.session.unfold))
    evening.session.become(stand.open_song(evening.session.now, 1))
    await edit(evening, 0, "Em7")
    for _ in range(2):
        evening.session.undo()
    await evening.files.songs.write_back()
    assert (bars(path, "a")[8:15], bars(path, "b")[8:15]) == ("| Am7 |", "| Dm7 |")
    evening.session.undo()
    evening.session.undo()
    await evening.close()
    assert (bars(path, "a")[8:15], bars(path, "b")[8:15]) == ("| Dm7 |", "| Dm7 |")
    assert evening.session.now.songs[0].song.key == "C"


async def test_an_undo_right_before_the_end_is_written_on_the_way_out(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    await edit(evening, 0, "Am7")
    evening.session.undo()
    await evening.close()
    assert bars(path)[8:15] == "| Dm7 |"


async def test_a_bar_changed_elsewhere_since_is_not_written_over(path: Path) -> None:
    evening = evening_on(path)
    here = evening.session.now.steps[0]
    bar = evening.files.songs.written(here)
    song = path.with_name("a.toml")
    song.write_text(song.read_text().replace("| Dm7", "| F6"))
    with pytest.raises(BarTaken, match="Verse bar 1 was changed elsewhere and is now F6"):
        await evening.files.songs.rewrite(here, "Am7", bar.text)
    assert bars(path)[8:14] == "| F6 |"


async def test_an_undo_of_a_bar_changed_elsewhere_is_refused_and_the_screen_shows_the_file(path: Path) -> None:
    evening = evening_on(path)
    await edit(evening, 0, "Am7")
    song = path.with_name("a.toml")
    song.write_text(song.read_text().replace("| Am7", "| F6"))
    evening.session.undo()
    await evening.files.songs.write_back()
    assert evening.session.notices["bar"] == "not written back: Verse bar 1 was changed elsewhere and is now F6"
    assert chords(evening)[0] == "F6"
    assert bars(path)[8:14] == "| F6 |"
    await evening.close()


async def test_a_disk_that_is_full_says_that_the_bar_is_not_written_back(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    evening = evening_on(path)
    await edit(evening, 0, "Am7")

    def full(where: Path, text: str) -> None:
        raise store.StoreError(where, "the disk is full", "make room")

    monkeypatch.setattr(store, "save", full)
    evening.session.undo()
    await evening.files.songs.write_back()
    assert evening.session.notices["bar"] == "not written back: a.toml: the disk is full"
    assert chords(evening)[0] == "Am7"
    await evening.close()


async def test_another_bar_changed_elsewhere_survives_and_is_seen(path: Path) -> None:
    evening = evening_on(path)
    await edit(evening, 0, "Am7")
    song = path.with_name("a.toml")
    song.write_text(song.read_text().replace("| G7", "| Db7"))
    evening.session.undo()
    await evening.files.songs.write_back()
    assert bars(path) == 'bars = "| Dm7 | Db7 | Cmaj7 | % |"'
    assert chords(evening)[:2] == ["Dm7", "Db7"]
    await evening.close()


async def test_tonights_tempo_and_key_stay_over_the_bar(path: Path) -> None:
    evening = evening_on(path)
    evening.session.become(decisions.transposed(evening.session.now, 0, "D", evening.session.unfold))
    evening.session.become(decisions.retimed(evening.session.now, 0, 66))
    await edit(evening, 1, "Db7")
    assert evening.session.now.here is not None
    assert (evening.session.now.here.song.key, evening.session.now.here.song.tempo, chords(evening)[1]) == (
        "D",
        66.0,
        "Eb7",
    )
    await evening.close()


async def test_a_key_for_good_is_written_into_the_songs_file_and_undone_to_the_letter(path: Path) -> None:
    evening = evening_on(path)
    before = path.with_name("a.toml").read_text()
    assert await evening.files.songs.keep_key(0, "Eb") == "Pier a"
    assert path.with_name("a.toml").read_text() == before.replace('"C"', '"Eb"').replace(
        "| Dm7 | G7 | Cmaj7 | % |", "| Fm7 | Bb7 | Ebmaj7 | % |"
    )
    assert chords(evening)[:2] == ["Fm7", "Bb7"]
    evening.session.undo()
    await evening.files.songs.write_back()
    assert path.with_name("a.toml").read_text() == before
    assert chords(evening)[:2] == ["Dm7", "G7"]
    evening.session.redo()
    await evening.files.songs.write_back()
    assert bars(path).endswith('"| Fm7 | Bb7 | Ebmaj7 | % |"')
    await evening.close()


async def test_a_key_for_good_is_undone_by_its_key_when_the_file_was_edited_since(path: Path) -> None:
    evening = evening_on(path)
    await evening.files.songs.keep_key(0, "D")
    song = path.with_name("a.toml")
    song.write_text(song.read_text().replace('"| Em7 |', '"| Em9 |'))
    evening.session.undo()
    await evening.files.songs.write_back()
    assert bars(path) == 'bars = "| Dm9 | G7 | Cmaj7 | % |"'
    await evening.close()


async def test_a_key_for_good_and_back_for_good_is_the_same_file_to_the_letter(path: Path) -> None:
    song = path.with_name("a.toml")
    before = (SHIPPED / "songs" / "two-moorings.toml").read_text(encoding="utf-8")
    song.write_text(before, encoding="utf-8")
    evening = evening_on(path)
    for key in ("Db", store.open_song(song).key):
        await evening.files.songs.keep_key(0, key)
    assert song.read_text(encoding="utf-8") == before
    await evening.close()


async def test_bars_and_keys_of_a_song_are_undone_in_their_order(path: Path) -> None:
    evening = evening_on(path)
    before = path.with_name("a.toml").read_text()
    await edit(evening, 0, "Am7")
    await evening.files.songs.keep_key(0, "F")
    await edit(evening, 1, "Gm7  C7")
    assert bars(path) == 'bars = "| Dm7 | Gm7  C7 | Fmaj7 | % |"'
    for _ in range(3):
        evening.session.undo()
    await evening.files.songs.write_back()
    assert path.with_name("a.toml").read_text() == before
    await evening.close()


async def test_tonights_key_becomes_the_one_for_good_and_the_other_song_stays(path: Path) -> None:
    evening = evening_on(path)
    evening.session.become(decisions.transposed(evening.session.now, 0, "F", evening.session.unfold))
    await evening.files.songs.keep_key(0, "F")
    assert [place.song.key for place in evening.session.now.songs] == ["F", "C"]
    assert 'key = "F"' in path.with_name("a.toml").read_text()
    await evening.close()


async def test_a_song_in_another_key_for_good_may_be_played_in_the_old_one_tonight(path: Path) -> None:
    path.write_text(path.read_text() + '\n[[songs]]\nfile = "a.toml"  # encore\n')
    evening = evening_on(path)
    await evening.start()
    await evening.files.songs.keep_key(0, "F")
    await evening.files.autosave.save()
    assert [place.song.key for place in store.open_set(path).songs] == ["F", "C", "C"]
    evening.session.become(decisions.transposed(evening.session.now, 0, "C", evening.session.unfold))
    await evening.close()
    assert [place.song.key for place in store.open_set(path).songs] == ["C", "C", "C"]


async def test_what_is_decided_while_a_key_is_written_for_good_stays(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    writing = asyncio.create_task(evening.files.songs.keep_key(0, "D"))
    while not evening.files.set_file.writing:
        await asyncio.sleep(0)
    evening.session.become(decisions.retimed(evening.session.now, 0, 90.0))
    evening.session.become(decisions.moved_song(evening.session.now, 0, 1))
    await writing
    assert [(place.song.key, place.song.tempo) for place in evening.session.now.songs] == [("C", 100.0), ("D", 90.0)]
    assert 'key = "D"' in path.with_name("a.toml").read_text()
    await evening.close()


async def test_the_song_that_was_meant_is_written_though_another_one_is_open_by_then(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    here = evening.session.now.steps[0]
    bar = evening.files.songs.written(here)
    async with evening.files.turn:
        writing = asyncio.create_task(evening.files.songs.rewrite(here, "Am7", bar.text))
        keeping = asyncio.create_task(evening.files.songs.keep_key(0, "D"))
        await asyncio.sleep(0)
        evening.session.become(stand.open_song(decisions.moved_song(evening.session.now, 0, 1), 0))
    await asyncio.gather(writing, keeping)
    assert bars(path, "a")[8:15] == "| Bm7 |"
    assert bars(path, "b")[8:15] == "| Dm7 |"
    assert [place.song.key for place in evening.session.now.songs] == ["C", "D"]
    await evening.close()


async def test_place_and_loop_stay_at_their_bars_when_an_earlier_bar_gets_more_chords_or_fewer(path: Path) -> None:
    evening = evening_on(path)
    evening.session.become(replace(evening.session.now, step=2, loop=(2, 3)))
    await edit(evening, 0, "Dm7 / Am7 D7")
    assert (evening.session.now.step, evening.session.now.loop) == (4, (4, 5))
    evening.session.undo()
    assert (evening.session.now.step, evening.session.now.loop) == (2, (2, 3))
    await evening.close()


async def test_a_song_that_is_mended_keeps_its_lines_in_the_set_and_takes_tonights_key(tmp_path: Path) -> None:
    path = written(tmp_path)
    text = path.read_text(encoding="utf-8").replace('file = "b.toml"  # slow', 'file = "b.toml"  # slow\ntempo = 77')
    path.write_text(text, encoding="utf-8")
    faulty = path.with_name("b.toml").read_text(encoding="utf-8").replace("G7", "Q7")
    path.with_name("b.toml").write_text(faulty, encoding="utf-8")
    evening = evening_on(path)
    await evening.start()
    assert [name for name, _ in evening.session.now.set_list.missing] == ["b.toml"]
    await evening.files.songs.rewrite_text("b.toml", faulty, faulty.replace("Q7", "G7"))
    await evening.files.autosave.save()
    assert path.read_text(encoding="utf-8") == text
    evening.session.become(decisions.transposed(evening.session.now, 1, "D", evening.session.unfold))
    await evening.files.autosave.save()
    assert path.read_text(encoding="utf-8") == text.replace("tempo = 77", 'tempo = 77\nkey = "D"')
    await evening.close()
