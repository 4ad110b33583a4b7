"""The set's own file beside the rehearsal: what of it was changed here, and whether another program changed it.

Writing is never blind: the file is read as it is now, only tonight's values in it are changed, and it is put in its
place whole. An order of songs that another program changed is not written over.
"""

import asyncio
import contextlib
from pathlib import Path

from engine.errors import EngineError
from engine.song.model import SetList
from tui.planning import Planner
from tui.rehearsal import NotThere
from tui.saving import entries, files_in, slots

Stamps = dict[Path, tuple[int, int]]
"""When each file was changed last (nanoseconds), and its size in bytes."""


class SetFile:
    """The file of an open set; with `path` None, or a song on its own, nothing is ever written."""

    def __init__(self, path: Path | None, set_list: SetList) -> None:
        self.path = path
        self.writing = False
        self.opened(set_list)

    def opened(self, set_list: SetList) -> None:
        """Begin anew with a set as it was just read from the file."""
        self._slots, self._saved = slots(set_list), entries(set_list)
        self._names = {place.file for place in set_list.songs}
        self._files: tuple[str, ...] | None = None
        self._stamps: Stamps | None = None

    @property
    def kept(self) -> bool:
        """True when there is a set file that tonight's changes go into."""
        return self.path is not None and bool(self._slots)

    async def watch(self) -> None:
        """Remember the files as they are now, to notice what other programs do to them."""
        self.stamp()
        if self.path is not None and self.kept:
            from tui import store

            with contextlib.suppress(EngineError, OSError):
                self._files = files_in(await asyncio.to_thread(store.read_text, self.path))

    def stamp(self) -> None:
        """Take the files as they are now for known."""
        self._stamps = self._stamped()

    def unsaved(self, set_list: SetList) -> bool:
        """Tell whether a set has changes that the file lacks."""
        return entries(set_list) != self._saved

    async def save(self, set_list: SetList, planner: Planner) -> None:
        """Write tonight's changes; the planner's process does the work on the text.

        Raises:
            EngineError: the file cannot be read or written, or has another order now; it is as it was.
        """
        wanted = entries(set_list)
        if self.path is None or not self.kept:
            self._saved = wanted
            return
        from tui import store

        self.writing = True
        try:
            text = await asyncio.to_thread(store.read_text, self.path)
            if self._files is not None and files_in(text) != self._files:
                raise NotThere("another program changed the order of the set: w takes it up")
            changed, now = await planner.ask("save", (text, self._slots, wanted), keep=False)
            await asyncio.to_thread(store.save, self.path, changed)
            self._slots, self._saved, self._files = now, wanted, files_in(changed)
            self._names |= {entry.file for entry in wanted}
            self.stamp()
        finally:
            self.writing = False

    def changed_outside(self) -> tuple[str, ...]:
        """Return the names of the files that another program changed."""
        if self.path is None or self.writing:
            return ()
        files = self._stamped()
        if self._stamps is None:
            self._stamps = files
        return tuple(sorted({file.name for file in files if files[file] != self._stamps.get(file)}))

    def _stamped(self) -> Stamps:
        if self.path is None:
            return {}
        from tui import store

        found = {}
        names = self._names if self.kept else set()
        for file in [self.path, *(store.song_path(self.path, name) for name in names)]:
            with contextlib.suppress(OSError, ValueError):
                status = file.stat()
                found[file] = (status.st_mtime_ns, status.st_size)
        return found
