"""The songs' files that lie with a set, and the name of a new one."""

import contextlib
import re
import unicodedata
from pathlib import Path

from engine.errors import EngineError
from engine.song.fields import read_table
from tui.persistence import store

MOST_FILES = 500
"""Files of a folder that are looked into (own choice: some tens of sets)."""

LONGEST_STEM = 60
"""Characters of a new file's name before its ending (own choice; systems allow 255 bytes)."""


def song_files(set_path: Path) -> tuple[tuple[str, str], ...]:
    """Return (file as the set would name it, title) of every song beside a set and in its `songs` folder."""
    found = []
    folder = set_path.parent
    for path in [*_files(folder), *_files(folder / "songs")][:MOST_FILES]:
        title = "" if path.name == set_path.name else _title(path)
        if title:
            found.append((path.relative_to(folder).as_posix(), title))
    return tuple(found)


def _files(folder: Path) -> list[Path]:
    with contextlib.suppress(OSError):
        return sorted(path for path in folder.glob("*.toml") if path.name.isprintable())
    return []


def _title(path: Path) -> str:
    """Return a song's title, its file's name where it has faults, "" where it is no song."""
    try:
        table, _ = read_table(store.read_text(path), "")
    except EngineError:
        return ""
    title = table.get("title", "")
    return (title if isinstance(title, str) and title.isprintable() else path.stem) if "sections" in table else ""


def free_file(set_path: Path, title: str) -> str:
    """Return a name for a new song's file, as the set names it: in its `songs` folder where there is one.

    It is the title in small letters and hyphens, numbered where there is such a file.
    """
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode()
    stem = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:LONGEST_STEM] or "song"
    folder = "songs/" if (set_path.parent / "songs").is_dir() else ""
    names = (f"{folder}{stem}{number}.toml" for number in ("", *(f"-{count}" for count in range(2, 10_000))))
    return next(name for name in names if not (set_path.parent / name).exists())
