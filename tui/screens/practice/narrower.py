"""The narrower version of a shift: planned for a hand that reaches a white key less, shown, and kept if wanted."""

from collections.abc import Callable
from datetime import datetime

from engine.errors import EngineError
from engine.planning.model import PlannedStep, Request
from engine.practice import strain
from engine.practice.ranking import HardShift
from engine.song.model import Pin, SetSong
from tui.screens.context import Context
from tui.screens.practice.choosing import Choosing
from tui.session import decisions


class Narrowing(Choosing):
    """The chosen shift can be had narrower; `narrow` are its two chords while they are shown."""

    def __init__(self, context: Context, now: Callable[[], datetime] | None = None) -> None:
        super().__init__(context, now)
        self.narrow: tuple[PlannedStep, PlannedStep] | None = None

    def action_narrow(self) -> None:
        """Show the shift as it would be planned for a hand that reaches a white key less, or the plan's again."""
        hard = self.chosen
        planned = self.planned(hard)
        if self.narrow is not None or hard is None or planned is None:
            self.narrow = None
            self.show_now()
            return
        request = strain.narrower(self.context.plans.request(planned[0]))
        if request is None:
            self.session.say("your reach is the narrowest that holds a seventh", alarm=True)
            return
        self.session.say("looking for a narrower version ...")
        self.run_worker(self._narrow(hard, planned[0], request), exclusive=True, group="narrow")

    async def _narrow(self, hard: HardShift, place: SetSong, request: Request) -> None:
        try:
            plan = await self.context.plans.planner.plan(place.steps, request)
        except EngineError as fault:
            self.session.say(str(fault).splitlines()[0], alarm=True)
            return
        if self.chosen is not hard:
            return
        steps = (plan.steps[hard.tightest.before], plan.steps[hard.tightest.index])
        if all(one.keys == other.keys for one, other in zip(steps, hard.steps, strict=True)):
            self.session.say("this shift is as narrow already")
            return
        self.narrow = steps
        self.session.say(f"for hands that reach {request.reach[0]:.0f} mm")

    def action_keep(self) -> None:
        """Pin the narrower version's two chords for tonight."""
        hard = self.chosen
        if self.narrow is None or hard is None:
            self.session.say("v shows a narrower version first")
            return
        pins = [decisions.pin_as_planned(planned) for planned in self.narrow]
        if self.open_song(hard.tightest.song) and all(map(self._pinned, pins)):
            self.narrow = None
            self.session.say("the narrower version is pinned for tonight; on the stand u takes it back")

    def _pinned(self, pin: Pin) -> bool:
        return self.session.attempt(lambda: decisions.pinned(self.session.now, pin, pin.section, pin.bar, pin.beat))
