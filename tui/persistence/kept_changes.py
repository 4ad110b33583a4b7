"""What was decided before the program was closed, kept so that it can still be undone: the set's text before and after
each change, in a file of our own for each set."""

import contextlib
import json
import os
from dataclasses import dataclass
from pathlib import Path

from engine.errors import EngineError
from engine.song.model import SetList
from tui.persistence.files import read_text, save
from tui.persistence.folders import data_folder
from tui.persistence.set_changes import Slots, slots
from tui.persistence.set_file import SetFile
from tui.session.band import Band, band
from tui.session.rehearsal import Change, Rehearsal, Version

MOST = 20
"""Changes that are kept of a set: what one remembers of the evening before (own choice)."""


@dataclass(frozen=True, slots=True)
class KeptChange:
    """A change as it is kept: in words, the texts of the set before and after it, and where we were (from 0)."""

    words: str
    before: str
    after: str
    song: int
    step: int


class KeptChanges:
    """The changes of one set; `file` knows the text that a version of the set has."""

    def __init__(self, path: Path, file: SetFile) -> None:
        self._path, self._set = path, file
        self._earlier: list[KeptChange] | None = None
        """Changes of the last time that have not been undone, None until they are asked for."""
        self._texts: dict[Change, KeptChange] = {}

    @property
    def _file(self) -> Path:
        import hashlib  # not wanted for the first picture

        name = hashlib.sha256(os.fsencode(self._path.resolve())).hexdigest()[:16]
        return data_folder() / "undo" / f"{name}.json"

    def keep(self, now: Rehearsal) -> None:
        """Write what can be undone; a file that cannot be written is passed over, it is no work of the player's."""
        if not now.log and self._earlier is None:
            return  # nothing has been decided or undone
        with contextlib.suppress(EngineError, OSError):
            log = _of_the_set_alone(now.log)
            self._texts = {change: self._texts.get(change) or self._kept(change) for change in log[-MOST:]}
            earlier = self._read() if len(log) == len(now.log) else []
            kept = [*earlier, *self._texts.values()][-MOST:]
            rows = [[one.words, one.before, one.after, one.song, one.step] for one in kept]
            save(self._file, json.dumps(rows) + "\n")

    def take(self, now: Rehearsal) -> Change | None:
        """Return the last change of the last time and forget it here; None where there is none, or where the set has
        been changed elsewhere since.

        Raises:
            EngineError: the set cannot be read as it was.
        """
        earlier = self._read()
        if not earlier:
            return None
        last = earlier[-1]
        before, after = (self._version(text, last, now) for text in (last.before, last.after))
        if _said(after.set_list) != _said(now.set_list):
            return None
        earlier.pop()
        return Change(last.words, before, after)

    def _version(self, text: str, kept: KeptChange, now: Rehearsal) -> Version:
        from tui.persistence import store

        return Version(store.set_of(text, self._path), kept.song, kept.step, now.edits)

    def _kept(self, change: Change) -> KeptChange:
        before, after = (self._set.copy_text(one.set_list, self._path.parent) for one in (change.before, change.after))
        return KeptChange(change.words, before, after, change.before.song, change.before.step)

    def _read(self) -> list[KeptChange]:
        if self._earlier is None:
            self._earlier = []
            with contextlib.suppress(EngineError, OSError, ValueError, TypeError, RecursionError):
                rows = [KeptChange(*row) for row in json.loads(read_text(self._file))]
                whole = all(
                    [*map(type, (one.words, one.before, one.after, one.song, one.step))] == [str, str, str, int, int]
                    for one in rows
                )
                self._earlier = rows if whole else []
        return self._earlier


def _said(set_list: SetList) -> tuple[Slots, Band]:
    """Return all that the set's own file says of a set and that is decided on the stand."""
    return slots(set_list), band(set_list)


def _of_the_set_alone(log: tuple[Change, ...]) -> tuple[Change, ...]:
    """Return the last changes up to one that wrote a song's own file anew: that file is no part of what is kept."""
    for place in range(len(log), 0, -1):
        if log[place - 1].before.edits != log[place - 1].after.edits:
            return log[place:]
    return log
