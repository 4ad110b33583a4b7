"""What was decided, and the place where we are, kept: written a moment later, and on the way out."""

import asyncio
import contextlib
from pathlib import Path
from typing import TYPE_CHECKING

from engine.errors import EngineError
from tui.persistence.kept_changes import KeptChanges
from tui.persistence.set_file import SetFile
from tui.session.rehearsal import Change, Rehearsal
from tui.session.session import TOLD, Session, in_a_line

if TYPE_CHECKING:
    from tui.session.merging import Clash

SAVE_AFTER = 0.3
"""Seconds after a change in which further changes join it in one write."""

PLACE_AFTER = 1.0
"""Seconds between two writes of the place where we are."""


class Autosave:
    """Writes the session's decisions into the set's file and its place into the saved state; `turn` is held by whoever
    reads or writes the set's and the songs' files."""

    def __init__(self, session: Session, path: Path | None, file: SetFile, turn: asyncio.Lock) -> None:
        self._session, self._path, self._file, self._turn = session, path, file, turn
        self._changes = KeptChanges(path, file) if path is not None and file.kept else None
        if self._changes is not None:
            session.earlier = self._earlier
        self._save_task: asyncio.Task[None] | None = None
        self._place_task: asyncio.Task[None] | None = None

    def cancel(self) -> None:
        """Wait no longer for what was to be written later."""
        for waiting in (self._save_task, self._place_task):
            if waiting is not None:
                waiting.cancel()

    def save_soon(self) -> None:
        """Write what was decided in a moment."""
        if self._save_task is None or self._save_task.done():
            self._save_task = self._session.tasks.later(SAVE_AFTER, self.save)

    async def save(self) -> None:
        """Write tonight's changes into the set's file, and again what is changed meanwhile."""
        try:
            async with self._turn:
                while self._file.unsaved(self._session.now.set_list):
                    self._say_clashes(await self._file.save(self._session.now.set_list))
                if self._changes is not None:
                    await asyncio.to_thread(self._changes.keep, self._session.now)
        except (EngineError, OSError) as fault:
            self._session.notice("saving", f"NOT SAVED: {in_a_line(fault)}")
        else:
            self._session.notice("saving", "")

    def _say_clashes(self, clashes: "tuple[Clash, ...]") -> None:
        """Say that something was decided here and elsewhere; the player takes up one of both later."""
        if clashes:
            words = f"NOT SAVED, changed elsewhere too: {clashes[0].what}: w chooses"
            self._session.notice("changed", words)

    async def _earlier(self, now: Rehearsal) -> Change | None:
        """Return what was decided last before the program was closed, None where that cannot be undone any more."""
        async with self._turn:
            with contextlib.suppress(EngineError, OSError):
                return await asyncio.to_thread(self._changes.take, now) if self._changes is not None else None
        return None

    def place_soon(self) -> None:
        """Keep the place where we are in a moment."""
        if self._place_task is None or self._place_task.done():
            self._place_task = self._session.tasks.later(PLACE_AFTER, self._save_place)

    async def _save_place(self) -> None:
        await asyncio.to_thread(self.save_place)

    def save_place(self) -> None:
        """Keep the place where we are for the next start."""
        if self._path is None:
            return
        from tui.persistence import store

        now = self._session.now
        more = {
            "layout": now.layout,
            "locked": now.locked,
            "loop": now.loop,
            "walked": sorted(now.walked),
            "toured": min(self._session.toured, TOLD),
            "file": now.here.file if now.here else "",
        }
        try:
            store.save_session(store.Session(self._path, now.song, min(now.step, len(now.steps)), more))
        except EngineError as fault:
            self._session.notices["session"] = f"the place is not kept: {in_a_line(fault)}"
