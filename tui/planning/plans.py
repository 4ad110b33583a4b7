"""The plans of the open set: made in another process, the open song first, and kept while they are of use."""

import asyncio
from dataclasses import replace
from typing import Any

from engine.planning.model import Plan, Request
from engine.song.model import Pin, SetSong, Step
from tui.planning.client import LATER, URGENT, NotPlanned, Planner
from tui.session import rehearsal as stand
from tui.session.rehearsal import Rehearsal
from tui.session.session import Session

Steps = tuple[Step, ...]


class Plans:
    """One per run; follows the session. `reach` (mm, left and right) and `register` (MIDI numbers) are the player's."""

    def __init__(self, session: Session) -> None:
        self.planner = Planner()
        self.reach: tuple[float, float] = Request().reach
        self.register: tuple[int, int] | None = None
        self._session = session
        self._made: dict[int, tuple[Steps, Request, Plan | None]] = {}
        """What each song of the set has now, by the identity of its steps; the planner keeps those of other keys."""
        self._refused: Steps | None = None
        """The steps that could not be planned, while they are open."""
        session.on_change.append(self._changed)

    # What there is

    def request(self, place: SetSong) -> Request:
        """Return how a song of the set is to be planned."""
        from engine.planning.lineup import request_for

        set_list = self._session.now.set_list
        return request_for(place.song, set_list, set_list.reach or self.reach, register=self.register)

    def of(self, place: SetSong) -> Plan | None:
        """Return a song's plan if it is there."""
        kept = self._made.get(id(place.steps))
        return kept[2] if kept and kept[0] is place.steps and kept[1] == self.request(place) else None

    @property
    def current(self) -> Plan | None:
        """The open song's plan, None while it is being made."""
        here = self._session.now.here
        return self.of(here) if here else None

    @property
    def pending(self) -> bool:
        """True while the open song's plan is being made."""
        here = self._session.now.here
        return here is not None and self.current is None and "planning" not in self._session.notices

    async def alternatives(self, index: int) -> tuple[Any, ...]:
        """Return the voicings that the chord at a step of the open song could have, with their price.

        Raises:
            NotPlanned: they could not be found.
        """
        here = self._session.now.here
        if here is None:
            return ()
        step, request = here.steps[index], self.request(here)
        # A pin is no obstacle to another choice at its own place.
        others = tuple(pin for pin in request.pins if not _at(pin, step))
        return tuple(await self.planner.ask("alternatives", (here.steps, replace(request, pins=others), index)))

    # Making them

    async def start(self) -> None:
        """Begin planning: the open song, then the others."""
        await self.planner.start()
        self.want()
        for index in range(len(self._session.now.songs)):
            self._session.now = stand.unfolded(self._session.now, self._session.unfold, index)
            # A long set takes a while: keys go between.
            await asyncio.sleep(0)
        self._session.show()
        self._session.tasks.start(self._plan_all())

    def want(self) -> None:
        """Have the open song planned if it is not."""
        place = self._session.now.here
        if place is None or not place.steps:
            return
        # What was wrong with another song is not wrong with this one.
        if self._refused is not None and self._refused is not place.steps:
            self._session.notices.pop("planning", None)
            self._made.pop(id(self._refused), None)
            self._refused = None
        if self._begun(place):
            self._session.tasks.start(self._make(place, URGENT))

    def _changed(self, _before: Rehearsal, _after: Rehearsal) -> None:
        self.want()

    def _begun(self, place: SetSong) -> bool:
        """Tell whether a plan is neither there nor being made, and mark it as being made."""
        kept, request = self._made.get(id(place.steps)), self.request(place)
        if kept and kept[0] is place.steps and kept[1] == request:
            return False
        if len(self._made) > 2 * len(self._session.now.songs):
            open_now = {id(song.steps) for song in self._session.now.songs}
            self._made = {key: made for key, made in self._made.items() if key in open_now}
        self._made[id(place.steps)] = (place.steps, request, None)
        return True

    async def _make(self, place: SetSong, urgency: int) -> None:
        request = self.request(place)
        try:
            plan = await self.planner.plan(place.steps, request, urgency)
        except NotPlanned as fault:
            self._refuse(place, urgency, str(fault).splitlines()[0])
            return
        kept = self._made.get(id(place.steps))
        if kept is None or kept[1] == request:
            self._made[id(place.steps)] = (place.steps, request, plan)
        if self._open(place):
            self._session.notices.pop("planning", None)
        self._session.show()

    def _refuse(self, place: SetSong, urgency: int, words: str) -> None:
        """Say that the open song cannot be planned; another one is tried again when it is opened."""
        if urgency == URGENT and self._open(place):
            self._refused = place.steps
            self._session.notice("planning", words)
        else:
            self._made.pop(id(place.steps), None)

    def _open(self, place: SetSong) -> bool:
        here = self._session.now.here
        return here is not None and here.steps is place.steps

    async def _plan_all(self) -> None:
        """Plan the rest of the set while the first song is being played, the next song first."""
        count, song = len(self._session.now.songs), self._session.now.song
        for index in [*range(song, count), *range(song)]:
            songs = self._session.now.songs
            if index < len(songs) and songs[index].steps and self._begun(songs[index]):
                await self._make(songs[index], LATER)

    async def close(self) -> None:
        """End the planner's process."""
        await self.planner.close()


def _at(pin: Pin, step: Step) -> bool:
    return pin.place == step.place
