"""The session and the player's settings from one evening to the next; a spoilt file is set aside, never lost."""

import tomllib
from pathlib import Path

import pytest

from tests.tui.sets_in_files import put
from tui.persistence.player import Player
from tui.persistence.saved_state import Session, load_player, load_session, save_player, save_session


def test_the_session_is_found_again(tmp_path: Path) -> None:
    path = put(tmp_path, "set.toml")
    session = Session(path, 2, 17, {"layout": "leader"})
    save_session(session)
    assert load_session() == session


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


def test_a_spoilt_player_file_is_set_aside_and_said(home: Path) -> None:
    put(home, "player.toml", "reach = [1, ")
    player = load_player()
    assert player.reach is None
    assert "player.toml.unreadable1" in player.notes[0]
    assert (home / "player.toml.unreadable1").exists()


def test_a_second_spoilt_file_does_not_replace_the_first(home: Path) -> None:
    for _ in range(2):
        put(home, "player.toml", "reach = [1, ")
        load_player()
    assert {file.name for file in home.iterdir()} == {"player.toml.unreadable1", "player.toml.unreadable2"}
