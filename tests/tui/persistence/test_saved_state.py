"""The session and the player's settings from one evening to the next; a spoilt file is never lost."""

import json
import os
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from tests.tui.sets_in_files import put
from tests.tui.spoilt_settings import SPOILT
from tui.persistence.files import StoreError
from tui.persistence.player import Player
from tui.persistence.saved_state import Session, load_player, load_session, save_player, save_session


def test_the_session_is_found_again(tmp_path: Path) -> None:
    path = put(tmp_path, "set.toml")
    session = Session(path, 2, 17, {"layout": "leader"})
    save_session(session)
    assert load_session() == session


def test_each_set_has_a_place_of_its_own(tmp_path: Path) -> None:
    here, there = Session(put(tmp_path, "one.toml"), 2, 17), Session(put(tmp_path, "two.toml"), 0, 3, {"locked": True})
    save_session(here)
    save_session(there)
    assert load_session(here.path) == here
    assert load_session(there.path) == load_session() == there
    assert load_session(tmp_path / "three.toml") == Session()


def test_a_file_of_one_session_is_read_too(home: Path, tmp_path: Path) -> None:
    path = put(tmp_path, "one.toml")
    put(home, "session.json", json.dumps({"path": str(path), "song": 1, "step": 2, "more": {}}))
    assert load_session(path) == Session(path, 1, 2)


def test_without_a_session_one_begins_at_the_top() -> None:
    assert load_session() == Session()


@pytest.mark.parametrize("text", ["", "{", "[]", '{"song": "x"}', '{"path": 3}', '{"song": -1}', "[" * 100_000, "\0"])
def test_a_spoilt_session_is_set_aside(home: Path, text: str) -> None:
    put(home, "session.json", text)
    assert load_session() == Session()
    assert (home / "session.json.unreadable1").read_text(encoding="utf-8") == text
    assert not (home / "session.json").exists()


def test_the_player_is_found_again() -> None:
    player = Player(register=(36, 96), reach=(200.0, 190.5), port_out="Piano", theme="light")
    save_player(player)
    assert load_player() == player


def test_without_a_file_the_player_has_the_usual_settings() -> None:
    assert load_player() == Player()


def test_the_players_own_comments_stay(home: Path) -> None:
    path = put(home, "player.toml", '# mine\nreach = "a ninth" # measured\ntheme = "light"\n')
    player = load_player()
    assert player.reach is not None
    assert player.reach[0] == player.reach[1] > 180
    save_player(player)
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# mine\n")
    assert "# measured" in text
    assert tomllib.loads(text)["theme"] == "light"


@pytest.mark.parametrize("text", SPOILT)
def test_what_cannot_be_understood_is_said_at_its_line_and_stays(home: Path, text: str) -> None:
    path = put(home, "player.toml", text)
    before = load_player()
    assert before.notes
    assert all(note.startswith("line ") for note in before.notes)
    save_player(replace(before, theme="plain"), before)
    left = [line for line in text.splitlines() if not line.startswith("theme")]
    written = path.read_text(encoding="utf-8").splitlines()
    assert [line for line in written if not line.startswith("theme") and line] == [line for line in left if line]
    assert load_player().theme == "plain"


def test_a_misspelt_reach_is_said_where_it_stands(home: Path) -> None:
    put(home, "player.toml", '# mine\nreach = "a ninht"\n')
    assert load_player().notes[0].startswith("line 2, column 9: ")


@pytest.mark.parametrize("text", ["reach = [1, ", "= 3\n", "theme = 'dark'\ntheme = 'light'\n", "a = " + "[" * 5000])
def test_a_file_that_is_no_toml_stays_to_the_letter_and_is_said(home: Path, text: str) -> None:
    path = put(home, "player.toml", text)
    before = load_player()
    assert "no TOML" in before.notes[0]
    with pytest.raises(StoreError, match="mend it"):
        save_player(replace(before, theme="light"), before)
    assert path.read_text(encoding="utf-8") == text
    assert {file.name for file in home.iterdir()} == {"player.toml"}


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_settings_folder_that_may_not_be_read_is_said(home: Path) -> None:
    put(home, "player.toml", "")
    home.chmod(0)
    try:
        assert "may not be read" in load_player().notes[0] or "cannot be read" in load_player().notes[0]
    finally:
        home.chmod(0o700)


def test_a_place_that_may_not_be_read_is_none_and_stays_where_it_is(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = put(home, "session.json", '{"sets": []}')

    def shut(_: Path) -> bool:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as only_here:
        only_here.setattr(Path, "exists", shut)
        assert load_session() == Session()
    assert [file.name for file in home.iterdir()] == [path.name]
