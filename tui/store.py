"""Files: sets and songs opened, everything saved whole or not at all, the session and the player kept between evenings.

STILLHAND_HOME moves the settings and the data into one folder; without it each system's own places are used.
"""

import contextlib
import errno
import json
import os
import shutil
import stat
import tempfile
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from engine.errors import EngineError
from engine.song.model import SetList, SetSong, Song
from tui.player import SETTINGS, Player, read_player, write_player

LARGEST = 5_000_000
"""Bytes beyond which a file is no song: the longest chart is a thousandth of it (own choice)."""
DEMO = "harbour-room.toml"


@dataclass(eq=False)
class StoreError(EngineError):
    """A file that cannot be opened or saved: which, what is wrong, what to try."""

    path: Path
    found: str
    hint: str = ""

    def __str__(self) -> str:
        return f"{self.path}: {self.found}" + (f", {self.hint}" if self.hint else "")


# Places


def config_folder() -> Path:
    """Return where the player's settings are kept."""
    home = os.environ.get("STILLHAND_HOME")
    if home:
        return Path(home)
    import platformdirs

    return Path(platformdirs.user_config_dir("stillhand", appauthor=False))


def data_folder() -> Path:
    """Return where the demo set's copy and the session are kept."""
    home = os.environ.get("STILLHAND_HOME")
    if home:
        return Path(home)
    import platformdirs

    return Path(platformdirs.user_data_dir("stillhand", appauthor=False))


def demo_set() -> Path:
    """Return the demo set in the user's data folder, copied there when it is not yet; a copy once made is the user's.

    Where nothing can be written, the set is opened where it was installed.
    """
    shipped = _shipped()
    own = data_folder() / "setlists"
    try:
        _copy_missing(shipped, own)
    except OSError:
        return own / DEMO if (own / DEMO).is_file() else shipped / DEMO
    return own / DEMO


def _shipped() -> Path:
    """The demo set of the wheel (beside `tui` under lib) or of the checkout: the same place relative to this file."""
    return Path(__file__).resolve().parents[1] / "setlists"


def _copy_missing(source: Path, target: Path) -> None:
    """Copy a folder when the demo set is not there yet; its set file comes last, so that half a copy is made again."""
    if (target / DEMO).is_file():
        return
    if not (source / DEMO).is_file():
        raise StoreError(source / DEMO, "the demo set is not installed", "open a set of your own: stillhand SET")
    files = [*source.rglob("*.toml"), *source.glob(".schema/*.json")]
    for file in sorted(files, key=lambda file: file.name == DEMO):
        place = target / file.relative_to(source)
        place.parent.mkdir(parents=True, exist_ok=True)
        if not place.exists():
            shutil.copyfile(file, place)


# Opening


def open_set(path: Path | None) -> SetList:
    """Open a set file, or a single song as a set of one (None: the demo set).

    Raises:
        StoreError: the file cannot be read.
        ChartError: the set, or the single song, has faults.
    """
    path = demo_set() if path is None else Path(path)
    text = read_text(path)
    if _is_song(text):
        song = _song(text, path)
        return SetList(title=song.title, songs=(SetSong(file=path.name, song=song),), source=str(path))
    from engine.hand.reach import reach_mm
    from engine.song.set_list import read_set

    set_list = read_set(text, str(path), lambda file: _load(path.parent, file), reach_mm)
    return replace(set_list, songs=tuple(_placed(place, path) for place in set_list.songs))


def _placed(place: SetSong, set_path: Path) -> SetSong:
    """Let a song of a set know the file it stands in."""
    return replace(place, song=replace(place.song, source=str(song_path(set_path, place.file))))


def open_song(path: Path) -> Song:
    """Open a song file.

    Raises:
        StoreError: the file cannot be read.
        ChartError: the song has faults.
    """
    return _song(read_text(Path(path)), Path(path))


def _song(text: str, path: Path) -> Song:
    from engine.song.reader import read_song

    return read_song(text, str(path))


def song_path(set_path: Path, file: str) -> Path:
    """Return where a song named in a set lies: beside the set, or in its `songs` folder."""
    beside = set_path.parent / file
    return beside if beside.exists() else next(filter(Path.exists, [set_path.parent / "songs" / file]), beside)


def _load(folder: Path, file: str) -> str:
    try:
        return read_text(song_path(folder / "set", file))
    except StoreError as error:
        # The set's reader knows OSError alone, since the engine opens no files.
        raise OSError(errno.ENOENT, f"{error.found}{', ' + error.hint if error.hint else ''}") from None
    except ValueError:
        raise OSError(errno.ENOENT, "that is no file's name") from None


def _is_song(text: str) -> bool:
    """True when a file is a song rather than a set: it has sections, or at least no songs."""
    import re

    has_songs = re.search(r"^\s*(\[\[\s*songs\s*\]\]|songs\s*=)", text, re.MULTILINE)
    has_sections = re.search(r"^\s*(\[\s*sections\b|sections\s*[.=])", text, re.MULTILINE)
    return bool(has_sections) or (not has_songs and bool(re.search(r"^\s*(key|tempo|meter)\s*=", text, re.MULTILINE)))


def read_text(path: Path) -> str:
    """Return a file's text.

    Raises:
        StoreError: missing, a folder, not readable, too large or no text.
    """
    try:
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            raise StoreError(path, "that is a folder", _folder_hint(path))
        if not stat.S_ISREG(status.st_mode):
            raise StoreError(path, "that is no file", "name a set or a song (.toml)")
        if status.st_size > LARGEST:
            raise StoreError(
                path, f"{status.st_size / 1e6:.0f} MB is far too large for a song", "is it the right file?"
            )
        content = path.read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        raise StoreError(path, "there is no such file", _near_hint(path)) from None
    except PermissionError:
        raise StoreError(path, "the file may not be read", "ask for the right to read it, or copy it") from None
    except (OSError, ValueError) as error:
        raise StoreError(path, f"the file cannot be read ({_reason(error)})") from None
    return _decoded(path, content)


def _decoded(path: Path, content: bytes) -> str:
    if b"\0" in content:
        raise StoreError(path, "that is no text file", "name a set or a song (.toml)")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise StoreError(path, f"line {line} is not UTF-8 text", "save the file as UTF-8 in your editor") from None


def _reason(error: Exception) -> str:
    return (getattr(error, "strerror", None) or str(error)).lower()


def _folder_hint(folder: Path) -> str:
    """Name the sets and songs in a folder."""
    try:
        names = sorted(file.name for file in folder.glob("*.toml"))[:4]
    except OSError:
        names = []
    return f"open one of its files: {', '.join(names)}" if names else "name a set or a song (.toml)"


def _near_hint(path: Path) -> str:
    from difflib import get_close_matches

    try:
        names = [file.name for file in path.parent.glob("*.toml")][:2000]
    except (OSError, ValueError):
        names = []
    near = get_close_matches(path.name, names, n=1)
    return f"did you mean {near[0]}?" if near else "check its name and folder"


# Saving


def save(path: Path, text: str) -> None:
    """Write a file whole or not at all: the old one stays until the new one is safely on the disk.

    A symbolic link is followed and the file's rights are kept.

    Raises:
        StoreError: the folder cannot be written, or the disk is full; the old file is untouched.
    """
    target = Path(os.path.realpath(path))
    temporary: str | None = None
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        if target.exists() and not os.access(target, os.W_OK):
            raise StoreError(
                path, "the file may not be changed", "it is marked read-only: allow writing, or save a copy"
            )
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        _keep_rights(target, temporary)
        os.replace(temporary, target)
    except OSError as error:
        raise StoreError(path, *_why_unsaved(error)) from None
    finally:
        if temporary:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
    _sync_folder(target.parent)


def _keep_rights(target: Path, temporary: str) -> None:
    with contextlib.suppress(OSError):
        os.chmod(temporary, stat.S_IMODE(target.stat().st_mode) if target.exists() else 0o666 & ~_umask())


def _umask() -> int:
    current = os.umask(0)
    os.umask(current)
    return current


def _sync_folder(folder: Path) -> None:
    """Have the new name on the disk too; systems that cannot do so keep it anyway."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _why_unsaved(error: OSError) -> tuple[str, str]:
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return "the folder may not be written", "nothing is lost on the disk: save a copy in a folder of your own"
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return "the disk is full", "the file is as it was: make room and save again"
    return f"the file could not be saved ({_reason(error)})", "the file is as it was"


# Session and player


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
