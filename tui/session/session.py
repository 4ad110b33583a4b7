"""The session: the rehearsal as it is now, and what is to be said about it. One per run.

It knows no file, no planner, no port and no screen; those listen to it. Everything here runs in the event loop; nothing
that a key press waits for leaves memory.
"""

import asyncio
from collections.abc import Awaitable, Callable
from dataclasses import replace
from typing import Any

from engine.errors import EngineError
from engine.song.model import SetList, Song, Step
from tui.session import changes
from tui.session import rehearsal as stand
from tui.session.rehearsal import Change, Rehearsal, Unfold
from tui.session.tasks import Tasks

Told = Callable[[], None]
Changed = Callable[[Rehearsal, Rehearsal], None]
"""Called with the rehearsal before and after."""
Earlier = Callable[[Rehearsal], Awaitable[Change | None]]
"""Finds what was decided last before the program was closed; it may be looked for on the disk."""

WORD_SECONDS = 4.0
"""Seconds that a word stays over the title."""

TOLD = 99
"""Lines of the first-run tour after which there is none left."""


def unfolded(song: Song) -> tuple[Step, ...]:
    """Return a song as it is played; what unfolds it is imported at the first song only."""
    from engine.song.unfolding import unfold

    return unfold(song)


def in_a_line(fault: BaseException) -> str:
    """Return a fault in one line, a file by its name alone."""
    name, found = getattr(getattr(fault, "path", None), "name", ""), getattr(fault, "found", "")
    return f"{name}: {found}" if name and found else (str(fault).splitlines() or [""])[0]


class Session:
    """Holds the rehearsal. `on_change`, `on_step` and `on_show` are called when it is another one, when the place has
    moved, and when there is something new to see. `notices` are standing complaints by their subject (saving, planning,
    sound): shown until they go. `toured` counts the lines of the first-run tour that have been told."""

    def __init__(self, set_list: SetList, unfold: Unfold = unfolded, song: int = 0, step: int = 0) -> None:
        self.unfold = unfold
        self.now = stand.opened(set_list, unfold, song, step, whole=False)
        self.message, self.alarm = "", False
        self.notices: dict[str, str] = {}
        self.toured = TOLD
        self.earlier: Earlier | None = None
        self.on_change: list[Changed] = []
        self.on_step: list[Told] = []
        self.on_show: list[Told] = []
        self.tasks = Tasks(self._failed)
        self._word: asyncio.Task[None] | None = None

    # What is open

    def become(self, now: Rehearsal) -> None:
        """Go on with another rehearsal; whoever listens has it planned, saved, sounded and shown."""
        before = self.now
        changed = now.songs is not before.songs
        whole = stand.all_unfolded(now, self.unfold) if changed else stand.unfolded(now, self.unfold, now.song)
        self.now = stand.within(whole)
        self.message = ""
        for heard in self.on_change:
            heard(before, self.now)
        if (now.song, now.step) != (before.song, before.step):
            self.toured += 1
            for stepped in self.on_step:
                stepped()
        self.show()

    def attempt(self, decide: Callable[[], Rehearsal]) -> bool:
        """Become what `decide` makes, or say why that is not possible; tell whether it was."""
        try:
            now = decide()
        except EngineError as fault:
            self.say(in_a_line(fault), alarm=True)
            return False
        self.become(now)
        return True

    def undo(self) -> str:
        """Take back what was decided last; return what that was, "" where nothing could be taken back."""
        if not self.now.log and self.earlier is not None:
            self.tasks.start(self._undo_earlier(self.earlier))
            return ""
        words = self.now.log[-1].words if self.now.log else ""
        return words if self.attempt(lambda: changes.undo(self.now)) else ""

    async def _undo_earlier(self, earlier: Earlier) -> None:
        """Take back what was decided last before the program was closed."""
        before = self.now
        change = await earlier(before)
        if self.now is not before:
            return
        if change is not None:
            self.now = replace(before, log=(change,))
        if self.attempt(lambda: changes.undo(self.now)) and change is not None:
            self.say(f"undone, of the last time: {change.words}")

    def redo(self) -> str:
        """Do again what was undone; return what that is, "" where nothing could be done again."""
        words = self.now.undone[-1].words if self.now.undone else ""
        return words if self.attempt(lambda: changes.redo(self.now)) else ""

    def unfold_all(self) -> None:
        """Have every song unfolded, for a picture of the whole set: it may be asked for before all is begun."""
        self.now = stand.all_unfolded(self.now, self.unfold)

    def go_to(self, song: int, step: int, file: object = "") -> None:
        """Open the set at a place, before anything is shown.

        Where the song has another file than was kept, it is looked for: songs may have come or gone in between.
        """
        files = [place.file for place in self.now.songs]
        if file in files and (song >= len(files) or files[song] != file):
            song = files.index(str(file))
        self.now = stand.opened(self.now.set_list, self.unfold, song, step, whole=False)

    def resume(self, more: dict[str, Any]) -> None:
        """Take up what the last session of this set kept besides the place."""
        layout, walked = more.get("layout"), more.get("walked")
        now = self.now
        if layout in stand.LAYOUTS:
            now = replace(now, layout=str(layout))
        if isinstance(walked, list):
            now = replace(now, walked=frozenset(map(str, walked)))
        loop = more.get("loop")
        if isinstance(loop, list) and len(loop) == 2 and all(isinstance(step, int) and step >= 0 for step in loop):
            now = replace(now, loop=(min(loop), max(loop)))
        self.now = stand.within(replace(now, locked=more.get("locked") is True))

    # What is said

    def say(self, words: str, alarm: bool = False) -> None:
        """Show a word in the top bar until the next key, or for a few seconds."""
        self.message, self.alarm = words, alarm
        if self._word is not None:
            self._word.cancel()
        self._word = self.tasks.later(WORD_SECONDS, self._unsay)
        self.show()

    async def _unsay(self) -> None:
        self.message = ""
        self.show()

    def notice(self, subject: str, words: str) -> None:
        """Put up a standing complaint, or take it down with ""."""
        before = self.notices.pop(subject, "")
        if words:
            self.notices[subject] = words
        if words != before:
            self.show()

    def show(self) -> None:
        """Tell that there may be something new to see."""
        for heard in self.on_show:
            heard()

    def close(self) -> None:
        """Give up all that is still being done beside the keys."""
        if self._word is not None:
            self._word.cancel()
        self.tasks.cancel()

    def _failed(self, failure: BaseException) -> None:
        self.notice("fault", f"a fault of ours: {in_a_line(failure) or type(failure).__name__}")
