"""Two programs on one set: nothing that either decided is lost silently, whoever writes first."""

import asyncio
import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tests.tui.evening import Evening, evening_on
from tests.tui.sets_in_files import SET, SONG, written
from tests.tui.waiting import soon
from tui.persistence import store
from tui.session import decisions
from tui.session import rehearsal as stand
from tui.session.merging import Clash
from tui.session.rehearsal import Rehearsal


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return written(tmp_path)


def undecided(clash: Clash) -> bool | None:
    return None


def in_key(evening: Evening, index: int, key: str) -> Rehearsal:
    return decisions.transposed(evening.session.now, index, key, evening.session.unfold)


def later(path: Path) -> None:
    """Let a file be newer than it is, since a test is faster than a file system's clock."""
    status = path.stat()
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns + 1_000_000))


async def started(path: Path) -> Evening:
    evening = evening_on(path)
    await evening.start()
    return evening


async def test_two_copies_that_decide_at_the_same_time_both_keep_it(path: Path) -> None:
    one, other = await started(path), await started(path)
    one.session.become(in_key(one, 0, "D"))
    other.session.become(decisions.retimed(other.session.now, 1, 66))
    await asyncio.gather(one.files.autosave.save(), other.files.autosave.save())
    assert 'key = "D"' in path.read_text()
    assert "tempo = 66" in path.read_text()
    for evening in (one, other):
        await evening.files.others.merge(undecided)
        assert (evening.session.now.songs[0].song.key, evening.session.now.songs[1].song.tempo) == ("D", 66.0)
        await evening.close()
    assert path.read_text().count("tempo = 66") == 1


async def test_writing_does_not_hide_what_the_other_copy_wrote(path: Path) -> None:
    one, other = await started(path), await started(path)
    one.session.become(in_key(one, 0, "D"))
    await one.files.autosave.save()
    other.session.become(decisions.retimed(other.session.now, 1, 66))
    await other.files.autosave.save()
    other.files.others.look()
    assert "changed elsewhere" in other.session.notices["changed"]
    assert other.session.now.songs[0].song.key == "C"
    await one.close()
    await other.close()


async def test_a_value_decided_twice_is_not_written_over_and_the_player_chooses(path: Path) -> None:
    one, other = await started(path), await started(path)
    one.session.become(in_key(one, 0, "D"))
    await one.files.autosave.save()
    other.session.become(in_key(other, 0, "E"))
    other.session.become(decisions.retimed(other.session.now, 0, 66))
    await other.files.autosave.save()
    assert 'key = "D"\ntempo = 66' in path.read_text()
    assert other.session.notices["changed"] == "NOT SAVED, changed elsewhere too: Pier a, key: w chooses"
    (clash,) = await other.files.others.merge(undecided)
    assert (clash.ours, clash.theirs) == ("E", "D")
    assert await other.files.others.merge(lambda clash: True) == ()
    await other.close()
    assert 'key = "E"\ntempo = 66' in path.read_text()
    assert "changed" not in other.session.notices
    await one.close()


async def test_the_files_value_chosen_can_be_undone(path: Path) -> None:
    evening = await started(path)
    evening.session.become(in_key(evening, 0, "E"))
    path.write_text(SET.replace('"a.toml"\n', '"a.toml"\nkey = "D"\n'))
    assert await evening.files.others.merge(lambda clash: False) == ()
    assert evening.session.now.songs[0].song.key == "D"
    evening.session.undo()
    assert evening.session.now.songs[0].song.key == "E"
    await evening.close()
    assert 'key = "E"' in path.read_text()


async def test_undo_after_taking_up_takes_back_our_own_and_never_theirs(path: Path) -> None:
    evening = await started(path)
    evening.session.become(decisions.retimed(evening.session.now, 0, 90))
    await evening.files.autosave.save()
    path.write_text(path.read_text().replace('"b.toml"  # slow', '"b.toml"  # slow\nnote = "softer"'))
    await evening.files.others.merge(undecided)
    evening.session.undo()
    assert evening.session.now.songs[0].song.tempo == 100.0
    assert evening.session.now.songs[1].song.note == "softer"
    await evening.close()
    assert "tempo = 100" in path.read_text()
    assert 'note = "softer"' in path.read_text()


async def test_an_editor_that_saves_its_old_text_is_asked_about(path: Path) -> None:
    evening = await started(path)
    evening.session.become(decisions.retimed(evening.session.now, 0, 90))
    await evening.files.autosave.save()
    path.write_text(SET + '\n[[songs]]\nfile = "a.toml"\n')
    (clash,) = await evening.files.others.merge(undecided)
    assert (clash.what, clash.ours, clash.theirs) == ("Pier a, tempo", "90", "100")
    await evening.files.others.merge(lambda clash: True)
    await evening.close()
    assert path.read_text().count("tempo = 90") == 1
    assert path.read_text().count("[[songs]]") == 3


async def test_undo_of_what_was_written_beside_theirs_is_written_too(path: Path) -> None:
    evening = await started(path)
    path.write_text(SET.replace("# slow\n", '# slow\nkey = "F"\n'))
    evening.session.become(decisions.retimed(evening.session.now, 0, 90))
    await evening.files.autosave.save()
    assert "tempo = 90" in path.read_text()
    evening.session.undo()
    await evening.close()
    assert "tempo = 100" in path.read_text()
    assert 'key = "F"' in path.read_text()


async def test_orders_and_songs_of_both_meet(path: Path) -> None:
    path.with_name("c.toml").write_text(SONG)
    evening = await started(path)
    evening.session.become(decisions.moved_song(evening.session.now, 0, 1))
    path.write_text(SET + '\n[[songs]]\nfile = "c.toml"\n')
    await evening.files.autosave.save()
    assert [line for line in path.read_text().splitlines() if line.startswith("file")] == [
        'file = "b.toml"  # slow', 'file = "a.toml"', 'file = "c.toml"',
    ]  # fmt: skip
    await evening.files.others.merge(undecided)
    assert [place.file for place in evening.session.now.songs] == ["b.toml", "a.toml", "c.toml"]
    await evening.close()


async def test_bars_changed_elsewhere_come_in_under_our_key(path: Path) -> None:
    evening = await started(path)
    evening.session.become(in_key(evening, 0, "D"))
    path.with_name("a.toml").write_text(SONG.replace("G7", "Db7"))
    await evening.files.others.merge(undecided)
    assert [step.symbol for step in evening.session.now.steps][:2] == ["Em7", "Eb7"]
    evening.session.undo()
    assert [step.symbol for step in evening.session.now.steps][:2] == ["Dm7", "Db7"]
    await evening.close()


async def test_nothing_is_at_stake_where_nothing_was_decided(path: Path) -> None:
    evening = await started(path)
    path.write_text(SET.replace('"Pier"', '"Harbour"'))
    assert not await evening.files.others.at_stake()
    evening.session.become(decisions.retimed(evening.session.now, 0, 90))
    assert await evening.files.others.at_stake()
    await evening.close()


@pytest.mark.parametrize("deed", ["merge", "reload"])
async def test_the_open_song_stays_open_at_its_step(path: Path, deed: str) -> None:
    evening = await started(path)
    evening.session.become(stand.forward(stand.open_song(evening.session.now, 1)))
    path.write_text('title = "Pier"\n[[songs]]\nfile = "b.toml"\n[[songs]]\nfile = "a.toml"\n')
    await (evening.files.others.reload() if deed == "reload" else evening.files.others.merge(undecided))
    assert (evening.session.now.song, evening.session.now.step) == (0, 1)
    await evening.close()


async def test_what_could_not_be_saved_is_tried_again_by_itself(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    evening = await started(path)
    real: Callable[[Path, str], None] = store.save

    def full(where: Path, text: str) -> None:
        raise store.StoreError(where, "the disk is full", "make room")

    monkeypatch.setattr(store, "save", full)
    evening.session.become(decisions.retimed(evening.session.now, 0, 90))
    await evening.files.autosave.save()
    evening.files.autosave.cancel()
    await asyncio.sleep(0)
    monkeypatch.setattr(store, "save", real)
    evening.files.others.look()
    await soon(lambda: "saving" not in evening.session.notices)
    assert "tempo = 90" in path.read_text()
    await evening.close()


async def test_a_song_that_is_half_written_holds_the_saving_up_and_loses_nothing(path: Path) -> None:
    evening = await started(path)
    path.write_text(SET + "\n")
    path.with_name("b.toml").write_text('title = "Pi')
    evening.session.become(decisions.retimed(evening.session.now, 1, 90))
    await evening.files.autosave.save()
    assert evening.session.notices["saving"].startswith("NOT SAVED: not taken up: b.toml:1")
    path.with_name("b.toml").write_text(SONG)
    await evening.close()
    assert "tempo = 90" in path.read_text()


async def test_a_folder_that_another_copy_holds_for_long_is_not_waited_for(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tui.persistence.set_file.PATIENCE", 0.05)
    evening = await started(path)
    handle = store.hold(path.parent)
    assert handle is not None
    evening.session.become(decisions.retimed(evening.session.now, 0, 90))
    await evening.files.autosave.save()
    store.release(handle)
    assert "tempo = 90" in path.read_text()
    await evening.close()


async def test_undo_leaves_us_where_we_are_after_the_other_programs_changes_were_taken_up(path: Path) -> None:
    evening = await started(path)
    evening.session.become(decisions.retimed(evening.session.now, 0, 90.0))
    await evening.files.autosave.save()
    path.write_text(path.read_text().replace("# slow", "# slow\ntempo = 66"))
    evening.session.become(replace(evening.session.now, step=2, loop=(1, 3)))
    await evening.files.others.merge(undecided)
    evening.session.undo()
    assert (evening.session.now.songs[0].song.tempo, evening.session.now.step, evening.session.now.loop) == (
        100.0,
        2,
        (1, 3),
    )
    await evening.close()
