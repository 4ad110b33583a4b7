"""A set of two short songs in files, and desks on it."""

from pathlib import Path

from tests.tui.showing import ReadyPlanner
from tui import store
from tui.desk import Desk

SONG = 'title = "Pier"\nkey = "C"\nmeter = "4/4"\ntempo = 100\n[sections.Verse]\nbars = "| Dm7 | G7 | Cmaj7 | % |"\n'
SET = '# tonight\ntitle = "Pier"\n\n[[songs]]\nfile = "a.toml"\n\n[[songs]]\nfile = "b.toml"  # slow\n'


def written(folder: Path) -> Path:
    """Write the set and its songs; return the set's path."""
    for name in ("a", "b"):
        (folder / f"{name}.toml").write_text(SONG.replace("Pier", f"Pier {name}"))
    (folder / "set.toml").write_text(SET)
    return folder / "set.toml"


def desk_on(path: Path) -> Desk:
    desk = Desk(store.open_set(path), path)
    desk.planner = ReadyPlanner()  # type: ignore[assignment]
    return desk
