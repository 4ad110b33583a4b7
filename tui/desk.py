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
from engine.plan.lineup import request_for
from engine.plan.model import Plan, Request
from engine.song.model import Pin, SetList, SetSong, Song, Step
from tui import decisions
from tui import rehearsal as stand
from tui.planning import LATER, URGENT, NotPlanned, Planner
from tui.rehearsal import NotThere, Rehearsal, Unfold
from tui.set_file import SetFile

Told = Callable[[], None]

SAVE_AFTER = 0.3
"""Seconds after a change in which further changes join it in one write."""

WORD_SECONDS = 4.0
"""Seconds that a word stays over the title."""

PLACE_AFTER = 1.0
"""Seconds between two writes of the place where we are."""


def unfolded(song: Song) -> tuple[Step, ...]:
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
        self.planner = Planner()
        self.told: list[Told] = []
        self.stepped: list[Told] = []
        self.message, self.alarm = "", False
        self.toured = 99
        """How many lines of the first-run tour have been told."""
        self.trouble: dict[str, str] = {}
        """Standing complaints by their subject (saving, planning, sound): shown in the status line until they go."""
        self._plans: dict[int, tuple[tuple[Step, ...], Request, Plan | None]] = {}
        self._tasks: set[asyncio.Task[None]] = set()
        self.file = SetFile(path, set_list)
        self._save_task: asyncio.Task[None] | None = None
        self._place_task: asyncio.Task[None] | None = None
        self._word_task: asyncio.Task[None] | None = None

    # The rehearsal

    def become(self, now: Rehearsal) -> None:
        """Show another rehearsal: have it planned, saved, sounded."""
        before = self.now
        now = self.now = stand.unfolded(now, self.unfold, now.song)
        self.message = ""
        if now.songs is not before.songs:
            self._save_soon()
        if (now.song, now.step) != (before.song, before.step):
            self.toured += 1
            for heard in self.stepped:
                heard()
        self._place_soon()
        self.want_plan()
        if now.songs is not before.songs and self.path is not None and not self.saves:
            self.say("for now only: a song on its own has no set to keep it in")
        self.tell()

    def try_to(self, deed: Callable[[], Rehearsal]) -> bool:
        """Become what `deed` makes, or say why that is not possible; tell whether it was."""
        try:
            now = deed()
        except EngineError as fault:
            self.say(short_words(fault), alarm=True)
            return False
        self.become(now)
        return True

    def say(self, words: str, alarm: bool = False) -> None:
        """Show a word in the top bar until the next key, or for a few seconds."""
        self.message, self.alarm = words, alarm
        if self._word_task is not None:
            self._word_task.cancel()
        self._word_task = self._later(WORD_SECONDS, self._unsay)
        self.tell()

    async def _unsay(self) -> None:
        self.message = ""
        self.tell()

    def tell(self) -> None:
        for heard in self.told:
            heard()

    # Files of songs

    def with_file(self, file: str) -> Rehearsal:
        """Return the rehearsal with a song file added at the end of the set; the name is as the set file would say it.

        Raises:
            EngineError: there is no such file, or it has faults.
        """
        from tui import store

        name = file.strip()
        if not name or self.path is None:
            raise NotThere("no song file was named" if self.path else "this set has no file of its own to add to")
        song = store.open_song(store.song_path(self.path, name))
        place = SetSong(name, song, self.unfold(song))
        return decisions.with_order(self.now, (*self.now.songs, place), self.now.here, f"add {song.title}")

    async def written_bar(self, step: Step) -> tuple[str, str, str]:
        """Return the bar of a step as the open song's own file has it: (chords, key of the file, meter of the bar).

        Raises:
            EngineError: the file cannot be read, or has no such bar any more.
        """
        from engine.song.writer import write_events
        from tui import store

        song = await asyncio.to_thread(store.open_song, self._song_file())
        section = next((part for part in song.sections if part.name == step.section), None)
        place = step.written[1]
        if section is None or place >= len(section.bars):
            raise NotThere("the song's file has no such bar any more")
        return write_events(section.bars[place]), section.key or song.key, str(section.bars[place].meter)

    async def rewrite_bar(self, step: Step, chords: str) -> None:
        """Write other chords into the bar of a step in the open song's own file, and take the file up again.

        Raises:
            EngineError: the file would have faults, or cannot be written; it is then as it was.
        """
        from engine.song.reader import read_song
        from tui import store

        path = self._song_file()
        text = await asyncio.to_thread(store.read_text, path)
        arguments = (text, step.section, step.bar, chords)
        changed = await self.planner.ask("bar", arguments, keep=False)
        await asyncio.to_thread(read_song, changed, path.name)
        self.file.writing = True
        try:
            await asyncio.to_thread(store.save, path, changed)
            self.reload()
        finally:
            self.file.writing = False

    def _song_file(self) -> Path:
        from tui import store

        place = self.now.here
        if self.path is None or place is None:
            raise NotThere("this song has no file")
        return store.song_path(self.path, place.file)

    # Plans

    def request(self, place: SetSong) -> Request:
        """Return how a song of the set is to be planned."""
        set_list = self.now.set_list
        return request_for(place.song, set_list, set_list.reach or self.reach)

    @property
    def plan(self) -> Plan | None:
        """The open song's plan, None while it is being made."""
        return self.plan_of(self.now.here) if self.now.here else None

    def plan_of(self, place: SetSong) -> Plan | None:
        """Return a song's plan if it is there."""
        kept = self._plans.get(id(place.steps))
        return kept[2] if kept and kept[0] is place.steps and kept[1] == self.request(place) else None

    @property
    def planning(self) -> bool:
        """True while the open song's plan is being made."""
        place = self.now.here
        return place is not None and self.plan is None and "planning" not in self.trouble

    def want_plan(self) -> None:
        """Have the open song planned if it is not."""
        place = self.now.here
        if place is not None and place.steps and self._asks(place):
            self.start_task(self._make_plan(place, URGENT))

    def _asks(self, place: SetSong) -> bool:
        """Tell whether a song's plan is neither there nor being made, and mark it as being made."""
        request = self.request(place)
        kept = self._plans.get(id(place.steps))
        if kept and kept[0] is place.steps and kept[1] == request:
            return False
        if len(self._plans) > 400:
            self._plans.clear()
        self._plans[id(place.steps)] = (place.steps, request, None)
        return True

    async def _make_plan(self, place: SetSong, urgency: int) -> None:
        steps, request = place.steps, self.request(place)
        try:
            plan = await self.planner.plan(steps, request, urgency)
        except NotPlanned as fault:
            if urgency == URGENT:
                self.trouble["planning"] = str(fault).splitlines()[0]
                self.tell()
            else:
                self._plans.pop(id(steps), None)
            return
        kept = self._plans.get(id(steps))
        if kept is None or kept[1] == request:
            self._plans[id(steps)] = (steps, request, plan)
        if self.now.here is not None and self.now.here.steps is steps:
            self.trouble.pop("planning", None)
        self.tell()

    async def _plan_all(self) -> None:
        """Plan the rest of the set while the first song is being played, the next song first."""
        order = list(range(self.now.song, len(self.now.songs))) + list(range(self.now.song))
        for index in order:
            if index < len(self.now.songs):
                place = self.now.songs[index]
                if place.steps and self._asks(place):
                    await self._make_plan(place, LATER)

    # Other programs

    def look_outside(self) -> None:
        """Notice that another program changed the set's file or a song's; the player decides when to take it up."""
        if "changed" in self.trouble:
            return
        names = self.file.changed_outside()
        if names:
            self.trouble["changed"] = f"{', '.join(names[:2])} was changed elsewhere: w takes it up"
            self.tell()

    def reload(self) -> None:
        """Take up what stands in the files now; undo brings the old songs back.

        Raises:
            EngineError: the set, or a song that is open, cannot be read any more; what is open stays.
        """
        if self.path is None:
            raise NotThere("this set has no file")
        from tui import store

        fresh = stand.opened(store.open_set(self.path), self.unfold)
        here = self.now.here
        before = {place.file for place in self.now.songs}
        for name, why in fresh.set_list.missing:
            if name in before:
                raise NotThere(f"not taken up: {missing_words(name, why)}")
        same = next((i for i, place in enumerate(fresh.songs) if here and place.file == here.file), 0)
        kept = stand.remember(self.now, "reload")
        step = self.now.step if fresh.songs and here and fresh.songs[same].file == here.file else 0
        last = len(fresh.songs[same].steps) if fresh.songs else 0
        self.file.opened(fresh.set_list)
        self.file.stamp()
        self.trouble.pop("changed", None)
        self.trouble.pop("saving", None)
        self.become(replace(kept, set_list=fresh.set_list, song=same, step=min(step, last), loop=None))

    def go_to(self, song: int, step: int) -> None:
        """Open the set at a place, before anything is shown."""
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

    async def alternatives(self, index: int) -> Any:
        """Return the voicings that the chord at a step of the open song could have, with their price."""
        place = self.now.here
        if place is None:
            return ()
        step, request = place.steps[index], self.request(place)
        # A pin is no obstacle to another choice at its own place.
        others = tuple(pin for pin in request.pins if not _at(pin, step))
        return await self.planner.ask("alternatives", (place.steps, replace(request, pins=others), index))

    # Beginning and end

    async def start(self) -> None:
        """Begin planning: this song, then the others."""
        await self.planner.start()
        await self.file.watch()
        self.want_plan()
        for index in range(len(self.now.songs)):
            self.now = stand.unfolded(self.now, self.unfold, index)
            # A long set takes a while: keys go between.
            await asyncio.sleep(0)
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

    def _finished(self, task: "asyncio.Task[None]") -> None:
        """Say it when something beside the keys failed, instead of losing it."""
        self._tasks.discard(task)
        if not task.cancelled() and (failure := task.exception()) is not None:
            self.trouble["fault"] = f"a fault of ours: {short_words(failure) or type(failure).__name__}"
            self.tell()

    async def close(self) -> None:
        """Save what is not saved yet and end the planner."""
        for waiting in (self._save_task, self._place_task, self._word_task):
            if waiting is not None:
                waiting.cancel()
        with contextlib.suppress(Exception):
            await self._save()
        self.save_place()
        for task in list(self._tasks):
            task.cancel()
        await self.planner.close()

    # Saving

    @property
    def saves(self) -> bool:
        """True when there is a set file that tonight's changes go into."""
        return self.file.kept

    def _save_soon(self) -> None:
        if self._save_task is None or self._save_task.done():
            self._save_task = self._later(SAVE_AFTER, self._save)

    def _later(self, seconds: float, work: Callable[[], Coroutine[Any, Any, None]]) -> "asyncio.Task[None] | None":
        async def wait() -> None:
            await asyncio.sleep(seconds)
            await work()

        try:
            return asyncio.get_running_loop().create_task(wait())
        except RuntimeError:
            return None

    async def _save(self) -> None:
        """Write tonight's changes into the set's file, and again what is changed meanwhile."""
        try:
            while self.file.unsaved(self.now.set_list):
                await self.file.save(self.now.set_list, self.planner)
        except (EngineError, OSError) as fault:
            self.trouble["saving"] = f"NOT SAVED: {short_words(fault)}"
            self.tell()
        else:
            if self.trouble.pop("saving", None):
                self.tell()

    def _place_soon(self) -> None:
        if self._place_task is None or self._place_task.done():
            self._place_task = self._later(PLACE_AFTER, self._save_place)

    async def _save_place(self) -> None:
        await asyncio.to_thread(self.save_place)

    def save_place(self) -> None:
        """Keep the place where we are for the next start."""
        if self.path is None:
            return
        from tui import store

        now = self.now
        more = {
            "layout": now.layout,
            "locked": now.locked,
            "walked": sorted(now.walked),
            "toured": min(self.toured, 99),
        }
        try:
            store.save_session(store.Session(self.path, now.song, min(now.step, len(now.steps)), more))
        except EngineError as fault:
            self.trouble["session"] = f"the place is not kept: {short_words(fault)}"


def short_words(fault: BaseException) -> str:
    """Return a fault in one line, a file by its name alone."""
    path, found = getattr(fault, "path", None), getattr(fault, "found", None)
    return f"{path.name}: {found}" if isinstance(path, Path) and found else (str(fault).splitlines() or [""])[0]


def _at(pin: Pin, step: Step) -> bool:
    return (pin.section, pin.bar, pin.beat) == (step.section, step.bar, step.beat)


def missing_words(name: str, why: str) -> str:
    """Return in one line which song of a set does not open and why; a reason may begin with the file and a line."""
    line = (why.splitlines() or [""])[0] or "cannot be opened"
    return line if line.startswith(name) else f"{name}: {line}"
