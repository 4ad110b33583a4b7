"""What is kept between evenings: the session and the player's settings. A spoilt file is set aside, never fatal."""

import contextlib
import json
import os
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tui.persistence.files import StoreError, read_text, save
from tui.persistence.folders import config_folder, data_folder
from tui.persistence.player import SETTINGS, Player, read_player, write_player


@dataclass(frozen=True, slots=True)
class Session:
    """Where the player was: the set, the song from 0, the step; `more` is whatever a screen keeps (JSON values)."""

    path: Path | None = None
    song: int = 0
    step: int = 0
    more: dict[str, Any] = field(default_factory=dict)


def load_session() -> Session:
    """Return the session last saved, an empty one when there is none; an unreadable file is set aside."""
    path = data_folder() / "session.json"
    text = _kept_text(path)
    if text is None:
        return Session()
    try:
        value = json.loads(text)
        where, song, step, more = value.get("path"), value.get("song", 0), value.get("step", 0), value.get("more", {})
        if not (isinstance(song, int) and isinstance(step, int) and isinstance(more, dict) and song >= 0 and step >= 0):
            raise ValueError(value)
        if not isinstance(where, str | None):
            raise ValueError(where)
        return Session(Path(where) if where else None, song, step, more)
    except (ValueError, AttributeError, RecursionError):
        _set_aside(path)
        return Session()


def save_session(session: Session) -> None:
    """Keep the session.

    Raises:
        StoreError: it cannot be written.
    """
    where = str(Path(session.path).resolve()) if session.path else None
    value = {"path": where, "song": session.song, "step": session.step, "more": session.more}
    save(data_folder() / "session.json", json.dumps(value, indent=1) + "\n")


def load_player() -> Player:
    """Return the player's settings, the usual ones when there are none; an unreadable file is set aside."""
    path = config_folder() / "player.toml"
    text = _kept_text(path)
    if text is None:
        return Player()
    try:
        return read_player(text)
    except (ValueError, RecursionError):
        aside = _set_aside(path)
        return Player(notes=(f"player.toml could not be read and is kept as {aside.name}",))


def save_player(player: Player) -> None:
    """Keep the player's settings; the player's own comments in the file survive where its keys stay.

    Raises:
        StoreError: it cannot be written.
    """
    path = config_folder() / "player.toml"
    save(path, _merged(_kept_text(path), player))


def _merged(old: str | None, player: Player) -> str:
    """Return the new settings inside the old text."""
    new = write_player(player)
    if not old:
        return new
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(old)
        fresh = tomlkit.parse(new)
    except TOMLKitError:
        return new
    for name in SETTINGS:
        if name in fresh and (name not in document or document[name] != fresh[name]):
            document[name] = fresh[name]
        elif name not in fresh and name in document:
            del document[name]
    text = tomlkit.dumps(document)
    try:
        same = read_player(text)
    except ValueError:
        return new
    return text if write_player(same) == new else new


def _kept_text(path: Path) -> str | None:
    """Return the text of a file of ours, None when there is none; an unreadable one is set aside."""
    if not path.exists():
        return None
    try:
        return read_text(path)
    except StoreError:
        _set_aside(path)
        return None


def _set_aside(path: Path) -> Path:
    """Keep a file that cannot be read under another name, so that nothing of it is lost."""
    number = 1
    while (aside := path.with_name(f"{path.name}.unreadable{number}")).exists():
        number += 1
    with contextlib.suppress(OSError):
        os.replace(path, aside)
    return aside
