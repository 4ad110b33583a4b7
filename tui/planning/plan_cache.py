"""The plans of the songs of a set, kept by the steps and the request that they were made for."""

from dataclasses import replace
from typing import Any

from engine.planning.model import Plan, Request
from engine.song.model import Pin, Step
from tui.planning.client import URGENT, NotPlanned, Planner

KEPT = 400
"""Plans that are kept: a set of 40 songs in some ten keys."""

Steps = tuple[Step, ...]


class Plans:
    """Asks the planner for what is not planned yet."""

    def __init__(self) -> None:
        self.planner = Planner()
        self._made: dict[int, tuple[Steps, Request, Plan | None]] = {}

    def of(self, steps: Steps, request: Request) -> Plan | None:
        """Return a plan if it is there."""
        kept = self._made.get(id(steps))
        return kept[2] if kept and kept[0] is steps and kept[1] == request else None

    def begun(self, steps: Steps, request: Request) -> bool:
        """Tell whether a plan is neither there nor being made, and mark it as being made."""
        kept = self._made.get(id(steps))
        if kept and kept[0] is steps and kept[1] == request:
            return False
        if len(self._made) > KEPT:
            self._made.clear()
        self._made[id(steps)] = (steps, request, None)
        return True

    def forget(self, steps: Steps) -> None:
        """Let a song be planned anew when it is opened again."""
        self._made.pop(id(steps), None)

    async def make(self, steps: Steps, request: Request, urgency: int) -> None:
        """Have a plan made, and keep it.

        Raises:
            NotPlanned: there is none; asked for with less urgency, it is tried again when the song is opened.
        """
        try:
            plan = await self.planner.plan(steps, request, urgency)
        except NotPlanned:
            if urgency != URGENT:
                self._made.pop(id(steps), None)
            raise
        kept = self._made.get(id(steps))
        if kept is None or kept[1] == request:
            self._made[id(steps)] = (steps, request, plan)

    async def alternatives(self, steps: Steps, request: Request, index: int) -> Any:
        """Return the voicings that the chord at a step could have, with their price."""
        step = steps[index]
        # A pin is no obstacle to another choice at its own place.
        others = tuple(pin for pin in request.pins if not _at(pin, step))
        return await self.planner.ask("alternatives", (steps, replace(request, pins=others), index))


def _at(pin: Pin, step: Step) -> bool:
    return (pin.section, pin.bar, pin.beat) == (step.section, step.bar, step.beat)
