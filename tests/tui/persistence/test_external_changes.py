"""Two programs on one set: nothing that either decided is lost silently, whoever writes first."""

import asyncio
import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tests.tui.sets_in_files import SET, SONG, desk_on, written
from tests.tui.waiting import soon
from tui.persistence import store
from tui.persistence.merging import Clash
from tui.session import decisions
from tui.session import rehearsal as stand
from tui.session.desk import Desk
from tui.session.rehearsal import Rehearsal


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return written(tmp_path)


def undecided(clash: Clash) -> bool | None:
    return None


def in_key(desk: Desk, index: int, key: str) -> Rehearsal:
    return decisions.transposed(desk.now, index, key, desk.unfold)


def later(path: Path) -> None:
    """Let a file be newer than it is, since a test is faster than a file system's clock."""
    status = path.stat()
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns + 1_000_000))


async def started(path: Path) -> Desk:
    desk = desk_on(path)
    await desk.start()
    return desk


async def test_two_copies_that_decide_at_the_same_time_both_keep_it(path: Path) -> None:
    one, other = await started(path), await started(path)
    one.become(in_key(one, 0, "D"))
    other.become(decisions.retimed(other.now, 1, 66))
    await asyncio.gather(one.keeping.save(), other.keeping.save())
    assert 'key = "D"' in path.read_text()
    assert "tempo = 66" in path.read_text()
    for desk in (one, other):
        await desk.others.merge(undecided)
        assert (desk.now.songs[0].song.key, desk.now.songs[1].song.tempo) == ("D", 66.0)
        await desk.close()
    assert path.read_text().count("tempo = 66") == 1


async def test_writing_does_not_hide_what_the_other_copy_wrote(path: Path) -> None:
    one, other = await started(path), await started(path)
    one.become(in_key(one, 0, "D"))
    await one.keeping.save()
    other.become(decisions.retimed(other.now, 1, 66))
    await other.keeping.save()
    other.others.look()
    assert "changed elsewhere" in other.trouble["changed"]
    assert other.now.songs[0].song.key == "C"
    await one.close()
    await other.close()


async def test_a_value_decided_twice_is_not_written_over_and_the_player_chooses(path: Path) -> None:
    one, other = await started(path), await started(path)
    one.become(in_key(one, 0, "D"))
    await one.keeping.save()
    other.become(in_key(other, 0, "E"))
    other.become(decisions.retimed(other.now, 0, 66))
    await other.keeping.save()
    assert 'key = "D"\ntempo = 66' in path.read_text()
    assert other.trouble["changed"] == "NOT SAVED, changed elsewhere too: Pier a, key: w chooses"
    (clash,) = await other.others.merge(undecided)
    assert (clash.ours, clash.theirs) == ("E", "D")
    assert await other.others.merge(lambda clash: True) == ()
    await other.close()
    assert 'key = "E"\ntempo = 66' in path.read_text()
    assert "changed" not in other.trouble
    await one.close()


async def test_the_files_value_chosen_can_be_undone(path: Path) -> None:
    desk = await started(path)
    desk.become(in_key(desk, 0, "E"))
    path.write_text(SET.replace('"a.toml"\n', '"a.toml"\nkey = "D"\n'))
    assert await desk.others.merge(lambda clash: False) == ()
    assert desk.now.songs[0].song.key == "D"
    desk.undo()
    assert desk.now.songs[0].song.key == "E"
    await desk.close()
    assert 'key = "E"' in path.read_text()


async def test_undo_after_taking_up_takes_back_our_own_and_never_theirs(path: Path) -> None:
    desk = await started(path)
    desk.become(decisions.retimed(desk.now, 0, 90))
    await desk.keeping.save()
    path.write_text(path.read_text().replace('"b.toml"  # slow', '"b.toml"  # slow\nnote = "softer"'))
    await desk.others.merge(undecided)
    desk.undo()
    assert desk.now.songs[0].song.tempo == 100.0
    assert desk.now.songs[1].song.note == "softer"
    await desk.close()
    assert "tempo = 100" in path.read_text()
    assert 'note = "softer"' in path.read_text()


async def test_an_editor_that_saves_its_old_text_is_asked_about(path: Path) -> None:
    desk = await started(path)
    desk.become(decisions.retimed(desk.now, 0, 90))
    await desk.keeping.save()
    path.write_text(SET + '\n[[songs]]\nfile = "a.toml"\n')
    (clash,) = await desk.others.merge(undecided)
    assert (clash.what, clash.ours, clash.theirs) == ("Pier a, tempo", "90", "100")
    await desk.others.merge(lambda clash: True)
    await desk.close()
    assert path.read_text().count("tempo = 90") == 1
    assert path.read_text().count("[[songs]]") == 3


async def test_undo_of_what_was_written_beside_theirs_is_written_too(path: Path) -> None:
    desk = await started(path)
    path.write_text(SET.replace("# slow\n", '# slow\nkey = "F"\n'))
    desk.become(decisions.retimed(desk.now, 0, 90))
    await desk.keeping.save()
    assert "tempo = 90" in path.read_text()
    desk.undo()
    await desk.close()
    assert "tempo = 100" in path.read_text()
    assert 'key = "F"' in path.read_text()


async def test_orders_and_songs_of_both_meet(path: Path) -> None:
    path.with_name("c.toml").write_text(SONG)
    desk = await started(path)
    desk.become(decisions.moved_song(desk.now, 0, 1))
    path.write_text(SET + '\n[[songs]]\nfile = "c.toml"\n')
    await desk.keeping.save()
    assert [line for line in path.read_text().splitlines() if line.startswith("file")] == [
        'file = "b.toml"  # slow', 'file = "a.toml"', 'file = "c.toml"',
    ]  # fmt: skip
    await desk.others.merge(undecided)
    assert [place.file for place in desk.now.songs] == ["b.toml", "a.toml", "c.toml"]
    await desk.close()


async def test_bars_changed_elsewhere_come_in_under_our_key(path: Path) -> None:
    desk = await started(path)
    desk.become(in_key(desk, 0, "D"))
    path.with_name("a.toml").write_text(SONG.replace("G7", "Db7"))
    await desk.others.merge(undecided)
    assert [step.symbol for step in desk.now.steps][:2] == ["Em7", "Eb7"]
    desk.undo()
    assert [step.symbol for step in desk.now.steps][:2] == ["Dm7", "Db7"]
    await desk.close()


async def test_nothing_is_at_stake_where_nothing_was_decided(path: Path) -> None:
    desk = await started(path)
    path.write_text(SET.replace('"Pier"', '"Harbour"'))
    assert not await desk.others.at_stake()
    desk.become(decisions.retimed(desk.now, 0, 90))
    assert await desk.others.at_stake()
    await desk.close()


@pytest.mark.parametrize("deed", ["merge", "reload"])
async def test_the_open_song_stays_open_at_its_step(path: Path, deed: str) -> None:
    desk = await started(path)
    desk.become(stand.forward(stand.open_song(desk.now, 1)))
    path.write_text('title = "Pier"\n[[songs]]\nfile = "b.toml"\n[[songs]]\nfile = "a.toml"\n')
    await (desk.others.reload() if deed == "reload" else desk.others.merge(undecided))
    assert (desk.now.song, desk.now.step) == (0, 1)
    await desk.close()


async def test_what_could_not_be_saved_is_tried_again_by_itself(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = await started(path)
    real: Callable[[Path, str], None] = store.save

    def full(where: Path, text: str) -> None:
        raise store.StoreError(where, "the disk is full", "make room")

    monkeypatch.setattr(store, "save", full)
    desk.become(decisions.retimed(desk.now, 0, 90))
    await desk.keeping.save()
    monkeypatch.setattr(store, "save", real)
    desk.others.look()
    await soon(lambda: "saving" not in desk.trouble)
    assert "tempo = 90" in path.read_text()
    await desk.close()


async def test_a_song_that_is_half_written_holds_the_saving_up_and_loses_nothing(path: Path) -> None:
    desk = await started(path)
    path.write_text(SET + "\n")
    path.with_name("b.toml").write_text('title = "Pi')
    desk.become(decisions.retimed(desk.now, 1, 90))
    await desk.keeping.save()
    assert desk.trouble["saving"].startswith("NOT SAVED: not taken up: b.toml:1")
    path.with_name("b.toml").write_text(SONG)
    await desk.close()
    assert "tempo = 90" in path.read_text()


async def test_a_folder_that_another_copy_holds_for_long_is_not_waited_for(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tui.persistence.set_file.PATIENCE", 0.05)
    desk = await started(path)
    handle = store.hold(path.parent)
    assert handle is not None
    desk.become(decisions.retimed(desk.now, 0, 90))
    await desk.keeping.save()
    store.release(handle)
    assert "tempo = 90" in path.read_text()
    await desk.close()


async def test_undo_leaves_us_where_we_are_after_the_other_programs_changes_were_taken_up(path: Path) -> None:
    desk = await started(path)
    desk.become(decisions.retimed(desk.now, 0, 90.0))
    await desk.keeping.save()
    path.write_text(path.read_text().replace("# slow", "# slow\ntempo = 66"))
    desk.become(replace(desk.now, step=2, loop=(1, 3)))
    await desk.others.merge(undecided)
    desk.undo()
    assert (desk.now.songs[0].song.tempo, desk.now.step, desk.now.loop) == (100.0, 2, (1, 3))
    await desk.close()
