"""What stands behind the screens: the rehearsal as it is now, its plan, what is to be saved, and the sound.

Screens call `become` with another rehearsal; the desk has it planned, saved and sounded, and tells the screens when
there is something new to show. Everything here runs in the event loop; nothing a key press waits for leaves memory.
"""

import asyncio
import contextlib
from collections.abc import Callable, Coroutine
from dataclasses import replace
from pathlib import Path
from typing import Any

from engine.errors import EngineError
from engine.planning.lineup import request_for
from engine.planning.model import Plan, Request
from engine.song.model import SetList, SetSong, Song, Step
from tui.persistence.autosave import Keeping
from tui.persistence.external_changes import OtherPrograms
from tui.persistence.files import short_words
from tui.persistence.set_file import SetFile
from tui.persistence.song_edits import BarWriting
from tui.planning.client import LATER, URGENT, NotPlanned, Planner
from tui.planning.plan_cache import Plans
from tui.session import decisions
from tui.session import rehearsal as stand
from tui.session.rehearsal import NotThere, Rehearsal, Unfold
from tui.widgets.lettering import pretty_words

Told = Callable[[], None]

WORD_SECONDS = 4.0
"""Seconds that a word stays over the title."""


def unfolded(song: Song) -> tuple[Step, ...]:
    """Return a song as it is played; what unfolds it is imported at the first song only."""
    from engine.song.unfolding import unfold

    return unfold(song)


class Desk:
    """Holds the rehearsal for all screens. `told` is called when the picture may have changed."""

    def __init__(
        self,
        set_list: SetList,
        path: Path | None = None,
        song: int = 0,
        step: int = 0,
        unfold: Unfold = unfolded,
    ) -> None:
        self.unfold = unfold
        self.path = path
        self.now: Rehearsal = stand.opened(set_list, unfold, song, step, whole=False)
        self.reach: tuple[float, float] = Request().reach
        self.register: tuple[int, int] | None = None
        self.plans = Plans()
        self._refused: tuple[Step, ...] | None = None
        """The steps that could not be planned, while they are open."""
        self.told: list[Told] = []
        self.stepped: list[Told] = []
        self.message, self.alarm = "", False
        self.toured = 99
        """How many lines of the first-run tour have been told."""
        self.trouble: dict[str, str] = {}
        """Standing complaints by their subject (saving, planning, sound): shown in the status line until they go."""
        self._tasks: set[asyncio.Task[None]] = set()
        self.file = SetFile(path, set_list)
        self.files_turn = asyncio.Lock()
        """Held by whoever reads or writes the set's and the songs' files, so that one ends before the other begins."""
        self.bars = BarWriting(self)
        self.others = OtherPrograms(self)
        self.keeping = Keeping(self)
        self._word_task: asyncio.Task[None] | None = None

    # The rehearsal

    def become(self, now: Rehearsal) -> None:
        """Show another rehearsal: have it planned, saved, sounded."""
        before = self.now
        changed = now.songs is not before.songs
        whole = stand.all_unfolded(now, self.unfold) if changed else stand.unfolded(now, self.unfold, now.song)
        self.now = stand.within(whole)
        self.message = ""
        if changed:
            self.keeping.save_soon()
        if now.edits != before.edits:
            self.start_task(self.bars.write_back())
        if (now.song, now.step) != (before.song, before.step):
            self.toured += 1
            for heard in self.stepped:
                heard()
        self.keeping.place_soon()
        self.want_plan()
        if changed and self.path is not None and not self.file.kept:
            self.say("for now only: Tab in k keeps the key; a set keeps all (stillhand new)")
        self.tell()

    def look_at_all(self) -> None:
        """Have every song unfolded, for a picture of the whole set: it may be asked for before `start` is through."""
        self.now = stand.all_unfolded(self.now, self.unfold)

    def try_to(self, deed: Callable[[], Rehearsal]) -> bool:
        """Become what `deed` makes, or say why that is not possible; tell whether it was."""
        try:
            now = deed()
        except EngineError as fault:
            self.say(short_words(fault), alarm=True)
            return False
        self.become(now)
        return True

    def undo(self) -> None:
        """Take back what was done last, and say what that was."""
        words = self.now.past[-1].words if self.now.past else ""
        if self.try_to(lambda: stand.undo(self.now)):
            self.say(f"undone: {pretty_words(words)}")

    def redo(self) -> None:
        """Do again what was undone, and say what that is."""
        words = self.now.future[-1].words if self.now.future else ""
        if self.try_to(lambda: stand.redo(self.now)):
            self.say(f"done again: {pretty_words(words)}")

    def say(self, words: str, alarm: bool = False) -> None:
        """Show a word in the top bar until the next key, or for a few seconds."""
        self.message, self.alarm = words, alarm
        if self._word_task is not None:
            self._word_task.cancel()
        self._word_task = self.later(WORD_SECONDS, self._unsay)
        self.tell()

    async def _unsay(self) -> None:
        self.message = ""
        self.tell()

    def tell(self) -> None:
        for heard in self.told:
            heard()

    def with_file(self, file: str) -> Rehearsal:
        """Return the rehearsal with a song file added at the end of the set; the name is as the set file would say it.

        Raises:
            EngineError: there is no such file, or it has faults.
        """
        from tui.persistence import store

        name = file.strip()
        if not name or self.path is None:
            raise NotThere("no song file was named" if self.path else "this set has no file of its own to add to")
        song = store.open_song(store.song_path(self.path, name))
        place = SetSong(name, song, self.unfold(song))
        return decisions.with_order(self.now, (*self.now.songs, place), self.now.here, f"add {song.title}")

    # Plans

    @property
    def planner(self) -> Planner:
        return self.plans.planner

    @planner.setter
    def planner(self, planner: Planner) -> None:
        self.plans.planner = planner

    def request(self, place: SetSong) -> Request:
        """Return how a song of the set is to be planned."""
        set_list = self.now.set_list
        return request_for(place.song, set_list, set_list.reach or self.reach, register=self.register)

    @property
    def plan(self) -> Plan | None:
        """The open song's plan, None while it is being made."""
        return self.plan_of(self.now.here) if self.now.here else None

    def plan_of(self, place: SetSong) -> Plan | None:
        """Return a song's plan if it is there."""
        return self.plans.of(place.steps, self.request(place))

    @property
    def planning(self) -> bool:
        """True while the open song's plan is being made."""
        place = self.now.here
        return place is not None and self.plan is None and "planning" not in self.trouble

    def want_plan(self) -> None:
        """Have the open song planned if it is not."""
        place = self.now.here
        if place is None or not place.steps:
            return
        # What was wrong with another song is not wrong with this one.
        if self._refused is not None and self._refused is not place.steps:
            self.trouble.pop("planning", None)
            self.plans.forget(self._refused)
            self._refused = None
        if self.plans.begun(place.steps, self.request(place)):
            self.start_task(self._make_plan(place, URGENT))

    async def _make_plan(self, place: SetSong, urgency: int) -> None:
        try:
            await self.plans.make(place.steps, self.request(place), urgency)
        except NotPlanned as fault:
            if urgency == URGENT and self.now.here is not None and self.now.here.steps is not place.steps:
                self.plans.forget(place.steps)
            elif urgency == URGENT:
                self._refused = place.steps
                self.trouble["planning"] = str(fault).splitlines()[0]
                self.tell()
            return
        if self.now.here is not None and self.now.here.steps is place.steps:
            self.trouble.pop("planning", None)
        self.tell()

    async def _plan_all(self) -> None:
        """Plan the rest of the set while the first song is being played, the next song first."""
        order = list(range(self.now.song, len(self.now.songs))) + list(range(self.now.song))
        for index in order:
            if index < len(self.now.songs):
                place = self.now.songs[index]
                if place.steps and self.plans.begun(place.steps, self.request(place)):
                    await self._make_plan(place, LATER)

    async def alternatives(self, index: int) -> Any:
        """Return the voicings that the chord at a step of the open song could have, with their price."""
        place = self.now.here
        return await self.plans.alternatives(place.steps, self.request(place), index) if place else ()

    # Beginning and end

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
        self.now = replace(now, locked=more.get("locked") is True)

    async def start(self) -> None:
        """Begin planning: this song, then the others."""
        await self.planner.start()
        await self.file.watch()
        self.want_plan()
        for index in range(len(self.now.songs)):
            self.now = stand.unfolded(self.now, self.unfold, index)
            # A long set takes a while: keys go between.
            await asyncio.sleep(0)
        self.tell()
        self.start_task(self._plan_all())

    def start_task(self, work: Coroutine[Any, Any, None]) -> None:
        """Have something done beside the keys, until the desk closes."""
        try:
            task = asyncio.get_running_loop().create_task(work)
        except RuntimeError:
            work.close()
            return
        self._tasks.add(task)
        task.add_done_callback(self._finished)

    def later(self, seconds: float, work: Callable[[], Coroutine[Any, Any, None]]) -> "asyncio.Task[None] | None":
        """Have something done after some seconds, unless the task is cancelled; without an event loop, never."""

        async def wait() -> None:
            await asyncio.sleep(seconds)
            await work()

        try:
            return asyncio.get_running_loop().create_task(wait())
        except RuntimeError:
            return None

    def _finished(self, task: "asyncio.Task[None]") -> None:
        """Say it when something beside the keys failed, instead of losing it."""
        self._tasks.discard(task)
        if not task.cancelled() and (failure := task.exception()) is not None:
            self.trouble["fault"] = f"a fault of ours: {short_words(failure) or type(failure).__name__}"
            self.tell()

    async def close(self) -> None:
        """Save what is not saved yet and end the planner."""
        with contextlib.suppress(Exception):
            await self.bars.write_back()
        self.keeping.cancel()
        if self._word_task is not None:
            self._word_task.cancel()
        with contextlib.suppress(Exception):
            await self.keeping.save()
        self.keeping.save_place()
        for task in list(self._tasks):
            task.cancel()
        await self.planner.close()
