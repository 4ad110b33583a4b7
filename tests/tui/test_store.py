"""Files of the player: opened with plain words, saved whole or not at all, never lost."""

import errno
import os
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.errors import ChartError, EngineError
from tui import store
from tui.player import Player, Singer, read_player, write_player
from tui.store import Session, StoreError

SONG = 'title = "Pier"\nkey = "C"\n[sections.A]\nbars = "| C | F |"\n'


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("STILLHAND_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


def written(folder: Path, name: str, text: str = SONG) -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


# the demo set


def test_the_demo_set_is_copied_and_opens(home: Path) -> None:
    path = store.demo_set()
    assert path.is_relative_to(home)
    evening = store.open_set(path)
    assert len(evening.songs) >= 8
    assert evening.missing == ()


def test_the_players_changes_to_the_demo_set_stay(home: Path) -> None:
    path = store.demo_set()
    path.write_text(path.read_text(encoding="utf-8").replace("Harbour Room", "My Room"), encoding="utf-8")
    assert store.demo_set() == path
    assert store.open_set(path).title == "My Room"


def test_half_a_copy_is_completed() -> None:
    path = store.demo_set()
    path.unlink()
    next((path.parent / "songs").glob("*.toml")).unlink()
    assert store.open_set(store.demo_set()).missing == ()


def test_where_nothing_can_be_written_the_demo_set_opens_as_installed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("STILLHAND_HOME", str(written(tmp_path, "a file") / "home"))
    assert store.open_set(store.demo_set()).songs


def test_without_the_variable_each_systems_own_places_are_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("STILLHAND_HOME")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("HOME", str(tmp_path))
    assert "stillhand" in str(store.demo_set())


# opening


def test_a_song_opens_as_a_set_of_one(tmp_path: Path) -> None:
    evening = store.open_set(written(tmp_path, "pier.toml"))
    assert [(place.file, place.song.title) for place in evening.songs] == [("pier.toml", "Pier")]


@pytest.mark.parametrize("name", ["sheet.musicxml", "sheet.mxl", "sheet.XML", "chart.txt"])
def test_a_lead_sheet_or_pasted_chart_is_to_be_imported_first(tmp_path: Path, name: str) -> None:
    with pytest.raises(StoreError, match=r"import it: stillhand import \S+ --to (sheet|chart)\.toml"):
        store.open_set(written(tmp_path, name, "| C | F |"))


def test_no_path_opens_the_demo_set() -> None:
    assert store.open_set(None).title == store.open_set(store.demo_set()).title


@pytest.mark.parametrize("place", ["pier.toml", "songs/pier.toml"])
def test_a_song_of_a_set_lies_beside_it_or_in_its_songs_folder(tmp_path: Path, place: str) -> None:
    written(tmp_path, place)
    path = written(tmp_path, "set.toml", 'title = "S"\n[[songs]]\nfile = "pier.toml"\n')
    assert store.open_set(path).songs[0].song.title == "Pier"


def test_a_missing_song_is_marked_and_the_rest_opens(tmp_path: Path) -> None:
    written(tmp_path, "pier.toml")
    text = 'title = "S"\n[[songs]]\nfile = "peer.toml"\n[[songs]]\nfile = "pier.toml"\n'
    evening = store.open_set(written(tmp_path, "set.toml", text))
    assert evening.missing == (("peer.toml", "there is no such file, did you mean pier.toml?"),)
    assert len(evening.songs) == 1


def test_a_set_with_a_reach_in_words_knows_it_in_millimetres(tmp_path: Path) -> None:
    written(tmp_path, "pier.toml")
    text = 'title = "S"\nreach = ["a ninth", 215]\n[[songs]]\nfile = "pier.toml"\n'
    reach = store.open_set(written(tmp_path, "set.toml", text)).reach
    assert reach is not None
    assert reach[0] > 180
    assert reach[1] == 215


def test_a_file_of_neither_songs_nor_sections_says_what_a_set_has(tmp_path: Path) -> None:
    with pytest.raises(ChartError, match=r"\[\[songs\]\]"):
        store.open_set(written(tmp_path, "set.toml", 'title = "S"\n'))


def spoilt(folder: Path, kind: str) -> Path:
    path = folder / "x.toml"
    if kind == "folder":
        written(folder, "x.toml/pier.toml")
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
        written(folder, "y.toml")
    elif kind == "inside":
        written(folder, "x.toml")
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
        ("near", "did you mean y.toml?"),
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
        store.open_set(path)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_file_that_may_not_be_read_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path, "x.toml")

    def refuse(_: Path) -> bytes:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", refuse)
    with pytest.raises(StoreError, match="may not be read"):
        store.read_text(path)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary(max_size=200))
def test_any_bytes_open_or_are_refused_in_words(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "noise.toml"
    path.write_bytes(content)
    with pytest.raises(EngineError):
        store.open_set(path)


# saving


def test_what_is_saved_is_read_again(tmp_path: Path) -> None:
    path = tmp_path / "new" / "a.toml"
    store.save(path, "a = 'é'\r\n")
    assert path.read_bytes() == "a = 'é'\r\n".encode()
    assert [file.name for file in path.parent.iterdir()] == ["a.toml"]


def test_what_a_killed_process_left_half_written_goes_with_the_next_save(tmp_path: Path) -> None:
    old, young = (written(tmp_path, f".stillhand-{name}.part", "half") for name in ("00", "01"))
    own = written(tmp_path, ".stillhand.toml", "the player's")
    os.utime(old, (1, 1))
    store.save(tmp_path / "a.toml", "new")
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
    path = written(tmp_path, "a.toml", "old")

    def fail(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, step, fail)
    with pytest.raises(StoreError, match=words):
        store.save(path, "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert [file.name for file in tmp_path.iterdir()] == ["a.toml"]


@pytest.mark.skipif(os.geteuid() == 0, reason="the administrator may write anywhere")
def test_a_read_only_folder_is_said(tmp_path: Path) -> None:
    path = written(tmp_path, "shut/a.toml", "old")
    path.parent.chmod(0o500)
    with pytest.raises(StoreError, match="may not be written"):
        store.save(path, "new")
    path.parent.chmod(0o700)
    assert path.read_text(encoding="utf-8") == "old"


def test_a_linked_file_stays_a_link_and_keeps_its_rights(tmp_path: Path) -> None:
    path = written(tmp_path, "own/a.toml", "old")
    path.chmod(0o640)
    link = tmp_path / "link.toml"
    link.symlink_to(path)
    store.save(link, "new")
    assert link.is_symlink()
    assert path.read_text(encoding="utf-8") == "new"
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_folder_in_the_way_is_said(tmp_path: Path) -> None:
    (tmp_path / "a.toml").mkdir()
    with pytest.raises(StoreError):
        store.save(tmp_path / "a.toml", "new")


# session and player


def test_the_session_is_found_again(tmp_path: Path) -> None:
    path = written(tmp_path, "set.toml")
    session = Session(path, 2, 17, {"layout": "leader"})
    store.save_session(session)
    assert store.load_session() == session


def test_without_a_session_one_begins_at_the_top() -> None:
    assert store.load_session() == Session()


@pytest.mark.parametrize("text", ["", "{", "[]", '{"song": "x"}', '{"path": 3}', '{"song": -1}', "[" * 100_000, "\0"])
def test_a_spoilt_session_is_set_aside(home: Path, text: str) -> None:
    written(home, "session.json", text)
    assert store.load_session() == Session()
    assert (home / "session.json.unreadable1").read_text(encoding="utf-8") == text
    assert not (home / "session.json").exists()


PLAYER = Player(
    register=(36, 96),
    reach=(200.0, 190.5), port_out="Piano", pedal="control 64 channel 1 inverted", channel=3, theme="light",
    guide="early", click=False, hands_step=True, lead="Network 1", follow="Network 2", pedal_cue="note 36 channel 10",
    program="17", bank=1, volume=100,
    singers=(Singer("Ines", 55, 74, 57, 72), Singer("Bo", 40, 60)), keys=(("stand.forward", "space"),),
)  # fmt: skip


def test_the_player_is_found_again() -> None:
    store.save_player(PLAYER)
    assert store.load_player() == PLAYER


@pytest.mark.parametrize(("text", "guide"), [("guide = true", "step"), ("guide = false", "none")])
def test_a_guide_that_an_older_file_switches_on_or_off_is_read(text: str, guide: str) -> None:
    assert read_player(text).guide == guide


def test_a_program_is_a_number_or_the_songs_own() -> None:
    assert "program = 17" in write_player(Player(program="17"))
    assert read_player('program = "song"').program == "song"


def test_without_a_file_the_player_has_the_usual_settings() -> None:
    assert store.load_player() == Player()


def test_the_players_own_comments_stay(home: Path) -> None:
    path = written(home, "player.toml", '# mine\nreach = "a ninth" # measured\ntheme = "light"\n')
    player = store.load_player()
    assert player.reach is not None
    assert player.reach[0] == player.reach[1] > 180
    store.save_player(player)
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# mine\n")
    assert "# measured" in text
    assert tomllib.loads(text)["theme"] == "light"


def test_a_spoilt_player_file_is_set_aside_and_said(home: Path) -> None:
    written(home, "player.toml", "reach = [1, ")
    player = store.load_player()
    assert player.reach is None
    assert "player.toml.unreadable1" in player.notes[0]
    assert (home / "player.toml.unreadable1").exists()


def test_a_second_spoilt_file_does_not_replace_the_first(home: Path) -> None:
    for _ in range(2):
        written(home, "player.toml", "reach = [1, ")
        store.load_player()
    assert {file.name for file in home.iterdir()} == {"player.toml.unreadable1", "player.toml.unreadable2"}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('reach = "huge"', "no reach"),
        ("reach = 20", "no reach"),
        ('register = ["C2", "E3"]', "two octaves apart"),
        ("register = 48", "two octaves apart"),
        ("reach = [1, 2, 3]", "no reach"),
        ('theme = "pink"', "theme is none of"),
        ("channel = 17", "channel"),
        ("guide = 3", "guide"),
        ("pedal = 64", "pedal"),
        ('pedal = "64"', "write it as control 64"),
        ("program = 0", "program is no number"),
        ("bank = 20000", "bank is no number"),
        ("volume = -1", "volume is no number"),
        ('click = "yes"', "click is neither"),
        ('pink = "floyd"', "pink means nothing"),
        ("[[singers]]\nname = 'x'", "a singer has"),
        ("singers = 3", "singers"),
        ("keys = 3", "[keys]"),
    ],
)
def test_a_setting_that_cannot_be_used_is_left_out_and_said(text: str, words: str) -> None:
    player = read_player(text)
    assert words in " ".join(player.notes)
    assert player.channel == 1


def test_a_player_is_written_and_read_the_same() -> None:
    assert read_player(write_player(PLAYER)) == PLAYER
