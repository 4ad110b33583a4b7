"""What is kept between evenings: the session and the player's settings. A spoilt file is never fatal: the session's is
set aside, the player's own stays as it is."""

import contextlib
import json
import os
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from tui.persistence.files import StoreError, read_text, reason, save
from tui.persistence.folders import config_folder, data_folder
from tui.persistence.player import Player
from tui.persistence.player_reader import read_player

MOST_SETS = 200
"""Sets and songs whose place is remembered; the one that was left longest ago is forgotten first (own choice)."""


@dataclass(frozen=True, slots=True)
class Session:
    """Where the player was: the set, the song from 0, the step; `more` is whatever a screen keeps (JSON values)."""

    path: Path | None = None
    song: int = 0
    step: int = 0
    more: dict[str, Any] = field(default_factory=dict)


def load_session(path: Path | None = None) -> Session:
    """Return where the player was in a set, None for the set that was open last; an empty session where there is none.
    A file that cannot be read is set aside."""
    sessions = _sessions()
    if path is None:
        return sessions[-1] if sessions else Session()
    wanted = str(path.resolve())
    return next((one for one in sessions if str(one.path) == wanted), Session())


def save_session(session: Session) -> None:
    """Keep the session, as the one that was open last.

    Raises:
        StoreError: it cannot be written.
    """
    where = str(Path(session.path).resolve()) if session.path else None
    others = [one for one in _sessions() if one.path is not None and str(one.path) != where]
    kept = [*others[1 - MOST_SETS :], replace(session, path=Path(where) if where else None)]
    values = [
        {"path": one.path and str(one.path), "song": one.song, "step": one.step, "more": one.more} for one in kept
    ]
    save(data_folder() / "session.json", json.dumps({"sets": values}, indent=1) + "\n")


def _sessions() -> list[Session]:
    """Return all sessions that are kept, the last one last."""
    path = data_folder() / "session.json"
    text = _kept_text(path)
    if text is None:
        return []
    try:
        value = json.loads(text)
        # Until the second version a file held the last set alone.
        return [_session(one) for one in value.get("sets", [value])]
    except (ValueError, AttributeError, KeyError, TypeError, RecursionError):
        _set_aside(path)
        return []


def _session(value: dict[str, Any]) -> Session:
    where, song, step, more = value.get("path"), value.get("song", 0), value.get("step", 0), value.get("more", {})
    if not (isinstance(song, int) and isinstance(step, int) and isinstance(more, dict) and song >= 0 and step >= 0):
        raise ValueError(value)
    if not isinstance(where, str | None):
        raise ValueError(where)
    return Session(Path(where) if where else None, song, step, more)


def load_player(path: Path | None = None) -> Player:
    """Return the player's settings, the usual ones where there are none; a file that cannot be read stays as it is,
    and `notes` says what is wrong with it. `path` is None for the file in the settings folder."""
    usual = path is None
    path = path or config_folder() / "player.toml"
    try:
        text = "" if usual and not path.exists() else read_text(path)
        return read_player(text)
    except StoreError as fault:
        return Player(notes=(f"{fault.found}, {fault.hint}" if fault.hint else fault.found,))
    except OSError as fault:
        return Player(notes=(f"the settings folder cannot be read ({reason(fault)})",))
    except (ValueError, RecursionError) as fault:
        return Player(notes=(f"{_toml_words(fault)}; nothing in it is used until that is mended",))


def save_player(after: Player, before: Player | None = None) -> None:
    """Keep the settings in which `after` differs from `before` (None: from the usual ones); every other line of the
    player's file stays as it is.

    Raises:
        StoreError: it cannot be written, or what stands there cannot be understood.
    """
    from tui.persistence.player_writer import FIRST_LINE, changed_player

    path = config_folder() / "player.toml"
    text = read_text(path) if _exists(path) else FIRST_LINE
    try:
        changed = changed_player(text, before or Player(), after)
    except ValueError as fault:
        raise StoreError(path, _toml_words(fault), "mend it, and settings are kept again") from None
    if changed != text:
        save(path, changed)


def _exists(path: Path) -> bool:
    try:
        return path.exists()
    except OSError as fault:
        raise StoreError(path, f"the settings folder cannot be read ({reason(fault)})") from None


def _toml_words(fault: Exception) -> str:
    """Return in one line what is wrong with a text that is no TOML, and where."""
    words = str(fault).splitlines()[0] if str(fault) else "nested without end"
    return f"that is no TOML: {words[:1].lower()}{words[1:]}"


def _kept_text(path: Path) -> str | None:
    """Return the text of a file of ours, None when there is none or it may not be read; a spoilt one is set aside."""
    try:
        if not path.exists():
            return None
        path.open("rb").close()
    except OSError:
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
