"""Sets and songs opened from their files, the demo set found and copied.

Reading and saving of files stand in `files`, the session in `saved_state`, the player in `player`; all are offered
here.
"""

import errno
import re
import shutil
from dataclasses import replace
from pathlib import Path

from engine.errors import ChartError
from engine.song.model import SetList, SetSong, Song
from tui.persistence.files import SHIPPED, StoreError, hold, read_text, release, save
from tui.persistence.folders import config_folder, data_folder
from tui.persistence.saved_state import Session, load_player, load_session, save_player, save_session

__all__ = [
    "Session", "StoreError", "config_folder", "data_folder", "demo_set", "hold", "is_there", "load_player",
    "load_session", "open_set", "open_song", "open_to_mend", "read_text", "release", "save", "save_player",
    "save_session", "set_of", "song_path",
]  # fmt: skip

DEMO = "harbour-room.toml"


def demo_set() -> Path:
    """Return the demo set in the user's data folder, copied there when it is not yet; a copy once made is the user's.

    Where nothing can be written, the set is opened where it was installed, and is not written there.
    """
    own = data_folder() / "setlists"
    try:
        _copy_missing(SHIPPED, own)
    except OSError:
        return own / DEMO if is_there(own / DEMO) else SHIPPED / DEMO
    return own / DEMO


def is_there(path: Path) -> bool:
    """Tell whether there is something of that name that we may see."""
    try:
        return path.exists()
    except (OSError, ValueError):
        return False


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


SHEETS = (".musicxml", ".mxl", ".xml", ".abc", ".txt")
"""Endings of what `stillhand import` reads."""


def open_set(path: Path | None) -> SetList:
    """Open a set file, or a single song as a set of one (None: the demo set).

    Raises:
        StoreError: the file cannot be read.
        ChartError: the set, or the single song, has faults.
    """
    path = demo_set() if path is None else Path(path)
    if path.suffix.lower() in SHEETS and path.is_file():
        raise StoreError(path, "that is no song file yet", f"import it: stillhand import {path} --to {path.stem}.toml")
    return set_of(read_text(path), path)


def open_to_mend(path: Path | None) -> SetList:
    """Open a set or a song as `open_set` does; a single song with faults is a set without it, to be mended.

    Raises:
        StoreError: the file cannot be read.
        ChartError: a set has faults.
    """
    try:
        return open_set(path)
    except ChartError as error:
        if path is None or not _is_song(read_text(Path(path))):
            raise
        words = "; ".join(str(fault) for fault in error.faults[:1])
        return SetList(title=Path(path).stem, missing=((Path(path).name, words),), source=str(path))


def set_of(text: str, path: Path) -> SetList:
    """Return the set that a text would be in the file of that path.

    Raises:
        ChartError: the set, or the single song, has faults.
    """
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
    return beside if is_there(beside) else next(filter(is_there, [set_path.parent / "songs" / file]), beside)


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
    # A table of songs misspelt is still meant for one, and only a set names files.
    has_songs = re.search(r"^\s*(\[+\s*songs?\s*\]|songs?\s*=|file\s*=)", text, re.MULTILINE)
    has_sections = re.search(r"^\s*(\[\s*sections\b|sections\s*[.=])", text, re.MULTILINE)
    if re.search(r"^\s*\[\[\s*songs?\s*\]\]", text, re.MULTILINE):
        return False  # what it says of sections is said of one of its songs
    return bool(has_sections) or (not has_songs and bool(re.search(r"^\s*(key|tempo|meter)\s*=", text, re.MULTILINE)))
