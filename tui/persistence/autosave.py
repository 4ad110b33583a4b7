"""What was decided, and the place where we are, kept: written a moment later, and on the way out."""

import asyncio
from typing import TYPE_CHECKING

from engine.errors import EngineError
from tui.persistence.files import short_words

if TYPE_CHECKING:
    from tui.persistence.merging import Clash
    from tui.session.desk import Desk

SAVE_AFTER = 0.3
"""Seconds after a change in which further changes join it in one write."""

PLACE_AFTER = 1.0
"""Seconds between two writes of the place where we are."""


class Keeping:
    """Writes the desk's decisions into the set's file and its place into the session."""

    def __init__(self, desk: "Desk") -> None:
        self.desk = desk
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
            self._save_task = self.desk.later(SAVE_AFTER, self.save)

    async def save(self) -> None:
        """Write tonight's changes into the set's file, and again what is changed meanwhile."""
        try:
            async with self.desk.files_turn:
                while self.desk.file.unsaved(self.desk.now.set_list):
                    self._say_clashes(await self.desk.file.save(self.desk.now.set_list, self.desk.planner))
        except (EngineError, OSError) as fault:
            self.desk.trouble["saving"] = f"NOT SAVED: {short_words(fault)}"
            self.desk.tell()
        else:
            if self.desk.trouble.pop("saving", None):
                self.desk.tell()

    def _say_clashes(self, clashes: "tuple[Clash, ...]") -> None:
        """Say that something was decided here and elsewhere; the player takes up one of both later."""
        if clashes:
            self.desk.trouble["changed"] = f"NOT SAVED, changed elsewhere too: {clashes[0].what}: w chooses"
            self.desk.tell()

    def place_soon(self) -> None:
        """Keep the place where we are in a moment."""
        if self._place_task is None or self._place_task.done():
            self._place_task = self.desk.later(PLACE_AFTER, self._save_place)

    async def _save_place(self) -> None:
        await asyncio.to_thread(self.save_place)

    def save_place(self) -> None:
        """Keep the place where we are for the next start."""
        if self.desk.path is None:
            return
        from tui.persistence import store

        now = self.desk.now
        more = {
            "layout": now.layout,
            "locked": now.locked,
            "walked": sorted(now.walked),
            "toured": min(self.desk.toured, 99),
            "file": now.here.file if now.here else "",
        }
        try:
            store.save_session(store.Session(self.desk.path, now.song, min(now.step, len(now.steps)), more))
        except EngineError as fault:
            self.desk.trouble["session"] = f"the place is not kept: {short_words(fault)}"
