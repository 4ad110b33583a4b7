"""What the stand sounds: the count, the guide chord, each step if wanted. Without a port everything else goes on.

The clock process is started when it is first needed, and only then is anything of MIDI imported.
"""

import asyncio
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from tui.desk import Desk

if TYPE_CHECKING:
    from engine.perform.timeline import Performance
    from engine.perform.touch import Touch
    from tui.devices.clock import Clock, ClockEvent

Heard = Callable[["ClockEvent"], None]


class Sound:
    """The sounding side of the stand. `heard` is called from a thread of the clock's and must only post a message."""

    def __init__(self, heard: Heard | None = None) -> None:
        self.heard = heard
        self.port = ""
        self.channel = 1
        self.guide = True
        self.each_step = False
        self._clock: Clock | None = None

    @property
    def clock(self) -> "Clock":
        """The clock, started when first asked for."""
        if self._clock is None:
            from tui.devices.clock import Clock

            self._clock = Clock(log=_log(), on_event=self.heard)
            self._clock.start()
        return self._clock

    @property
    def started(self) -> bool:
        return self._clock is not None

    @property
    def status(self) -> str:
        """One line for the player, "" while nothing of MIDI is wanted."""
        if self._clock is None:
            return "no MIDI"
        return self._clock.status

    def use(self, port: str) -> None:
        """Play through the port of this name from now on; "" for none."""
        self.port = port
        if port or self.started:
            self.clock.open(port or None)

    def touch(self) -> "Touch":
        from engine.perform.touch import Touch

        return Touch(channel=self.channel)

    def count_in(self, desk: Desk) -> None:
        """Count in at the open song's tempo, with the chord that stands there as a guide on the last beat."""
        place, plan = desk.now.here, desk.plan
        if place is None:
            desk.say("no song is open", alarm=True)
            return
        from engine.perform.play_along import Ride, count_performance
        from engine.plan.model import Plan

        first = min(desk.now.step, max(len(place.steps) - 1, 0))
        guide = "first" if self.guide and plan else "none"
        try:
            performance = count_performance(
                place.song, plan or Plan((), 0.0, 0.0, False), Ride(self.touch(), guide=guide, first=first)
            )
        except ValueError as fault:
            desk.say(str(fault), alarm=True)
            return
        desk.start_task(self._play(performance))
        desk.say(f"count {place.song.count}" + ("" if self.port else "  (on the screen only: no MIDI port, m = sound)"))

    async def _play(self, performance: "Performance") -> None:
        """Play as soon as the clock's process is there: the first time it has to be started."""
        clock = self.clock
        for _ in range(100):
            if clock.process_id is not None:
                break
            await asyncio.sleep(0.03)
        clock.play(performance, delay=0.05)

    def toggle_steps(self, desk: Desk) -> None:
        """Sound each chord as the player steps, or leave that to the player."""
        if not self.port:
            desk.say("no MIDI port chosen: m = sound", alarm=True)
            return
        self.each_step = not self.each_step
        if not self.each_step:
            self.silence()
        desk.say("each chord sounds as you step" if self.each_step else "the chords are yours to play")
        self.stepped(desk)

    def stepped(self, desk: Desk) -> None:
        """Sound the chord that has just come, if wanted."""
        if not self.each_step or not self.port:
            return
        plan = desk.plan
        if plan is None or desk.now.at_end:
            self.clock.silence()
            return
        self.clock.sound_step(plan.steps[desk.now.step], self.touch())

    def cue(self) -> None:
        if self._clock is not None:
            self._clock.cue()

    def silence(self) -> None:
        """Stop everything that sounds."""
        if self._clock is not None:
            self._clock.panic()

    def close(self) -> None:
        if self._clock is not None:
            self._clock.close()


def _log() -> Path | None:
    from tui import store

    folder = store.data_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return folder / "midi.log"
