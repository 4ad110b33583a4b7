"""Text files: opened with plain words for what is wrong, saved whole or not at all."""

import errno
import os
from pathlib import Path

import pytest

from tests.tui.sets_in_files import put
from tui.persistence.files import StoreError, read_text, save


def spoilt(folder: Path, kind: str) -> Path:
    path = folder / "x.toml"
    if kind == "folder":
        put(folder, "x.toml/pier.toml")
    elif kind == "large":
        path.write_bytes(b"# " + b"x" * 10_000_000)
    elif kind == "nul":
        path.write_bytes(b"title = \0")
    elif kind == "latin":
        path.write_bytes("title = 'a'\nnote = 'Café'".encode("latin-1"))
    elif kind == "device":
        path.symlink_to("/dev/zero")
    elif kind == "loop":
        path.symlink_to(path)
    elif kind == "near":
        put(folder, "xy.toml")
    elif kind == "inside":
        put(folder, "x.toml")
        return path / "inside.toml"
    elif kind == "long":
        return folder / ("x" * 5000)
    elif kind == "odd":
        return folder / "a\0b"
    return path


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("gone", "no such file"),
        ("near", "did you mean xy.toml?"),
        ("folder", "a folder, open one of its files: pier.toml"),
        ("large", "10 MB is far too large"),
        ("nul", "no text file"),
        ("latin", "line 2 is not UTF-8"),
        ("device", "no file"),
        ("loop", "cannot be read"),
        ("inside", "no such file"),
        ("long", "cannot be read"),
        ("odd", "cannot be read"),
    ],
)
def test_what_cannot_be_opened_is_said_in_one_line(tmp_path: Path, kind: str, words: str) -> None:
    path = spoilt(tmp_path, kind)
    with pytest.raises(StoreError) as caught:
        read_text(path)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_file_that_may_not_be_read_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = put(tmp_path, "x.toml")

    def refuse(_: Path) -> bytes:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", refuse)
    with pytest.raises(StoreError, match="may not be read"):
        read_text(path)


@pytest.mark.parametrize("content", ["a = 'é'\r\n", b"\xff\0MThd"])
def test_what_is_saved_is_there_to_the_last_byte(tmp_path: Path, content: str | bytes) -> None:
    path = tmp_path / "new" / "a.toml"
    save(path, content)
    assert path.read_bytes() == (content.encode() if isinstance(content, str) else content)
    assert [file.name for file in path.parent.iterdir()] == ["a.toml"]


def test_what_a_killed_process_left_half_written_goes_with_the_next_save(tmp_path: Path) -> None:
    old, young = (put(tmp_path, f".stillhand-{name}.part", "half") for name in ("00", "01"))
    own = put(tmp_path, ".stillhand.toml", "the player's")
    os.utime(old, (1, 1))
    save(tmp_path / "a.toml", "new")
    assert not old.exists()
    assert young.exists(), "another copy may be writing it now"
    assert own.exists()


@pytest.mark.parametrize(
    ("number", "words"),
    [(errno.ENOSPC, "the disk is full"), (errno.EROFS, "may not be written"), (errno.EIO, "could not be saved")],
)
@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_disk_that_fails_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, words: str, step: str
) -> None:
    path = put(tmp_path, "a.toml", "old")

    def fail(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, step, fail)
    with pytest.raises(StoreError, match=words):
        save(path, "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert [file.name for file in tmp_path.iterdir()] == ["a.toml"]


@pytest.mark.skipif(os.geteuid() == 0, reason="the administrator may write anywhere")
def test_a_read_only_folder_is_said(tmp_path: Path) -> None:
    path = put(tmp_path, "shut/a.toml", "old")
    path.parent.chmod(0o500)
    with pytest.raises(StoreError, match="may not be written"):
        save(path, "new")
    path.parent.chmod(0o700)
    assert path.read_text(encoding="utf-8") == "old"


def test_a_linked_file_stays_a_link_and_keeps_its_rights(tmp_path: Path) -> None:
    path = put(tmp_path, "own/a.toml", "old")
    path.chmod(0o640)
    link = tmp_path / "link.toml"
    link.symlink_to(path)
    save(link, "new")
    assert link.is_symlink()
    assert path.read_text(encoding="utf-8") == "new"
    assert path.stat().st_mode & 0o777 == 0o640


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_a_private_file_is_private_while_it_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, mode: int
) -> None:
    path = put(tmp_path, "a.toml", "old")
    path.chmod(mode)
    seen: list[int] = []
    flushed = os.fsync

    def look(handle: int) -> None:
        seen.append(os.fstat(handle).st_mode & 0o777)
        flushed(handle)

    monkeypatch.setattr(os, "fsync", look)
    save(path, "new")
    assert seen[0] == path.stat().st_mode & 0o777 == mode


def test_a_folder_in_the_way_is_said(tmp_path: Path) -> None:
    (tmp_path / "a.toml").mkdir()
    with pytest.raises(StoreError, match="could not be saved"):
        save(tmp_path / "a.toml", "new")
