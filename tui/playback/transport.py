"""A song played along in time: the count, then the roadmap; what the clock marks moves the stand and the beat light."""

import asyncio
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from engine.song.model import Step
from tui.planning.plans import Plans
from tui.session.rehearsal import Rehearsal
from tui.session.session import Session
from tui.session.steps import section_start

if TYPE_CHECKING:
    from engine.performance.timeline import Performance
    from engine.planning.model import Plan
    from engine.song.model import Song
    from tui.midi.clock import ClockEvent
    from tui.playback.sound import Sound

KEY = "i = in time"


class Transport:
    """At most one song is played along. `lamp` is the beat: a filled circle on a strong beat, a ring on the others, and
    its number; `due` when the present step began (monotonic seconds), None while nothing is played along."""

    def __init__(self, session: Session, plans: Plans, sound: "Sound") -> None:
        self.session, self.plans, self.sound = session, plans, sound
        self.lamp = ""
        self.due: float | None = None
        self._performance: Performance | None = None
        self._make: Callable[[Song, Plan], Performance] | None = None
        """Makes the performance anew, for another key, tempo or voicing of the song that is played."""
        self._song: Song | None = None
        self._steps: tuple[Step, ...] = ()
        self._tempos: tuple[float, ...] = ()
        self._first = 0
        self._beat = 0
        self._moving = False
        self._waits = False
        self.ended: Callable[[tuple[Song, Plan] | None], None] | None = None
        """Called when it is over, with the song and its plan; with None after a ladder of several tempos."""
        self._ridden: tuple[Song, Plan] | None = None
        session.on_change.append(self._changed)

    @property
    def on(self) -> bool:
        """True while a song is played along and nothing else has taken its place."""
        return self._performance is not None and self.sound.playing is self._performance

    # Beginning and ending

    def count_in(self) -> None:
        """Count in at the open song's tempo, with the chord that stands there as a guide on the last beat."""
        place, plan = self.session.now.here, self.plans.current
        if place is None:
            self.session.say("no song is open", alarm=True)
            return
        from engine.performance.play_along import Ride, count_performance
        from engine.planning.model import Plan

        first = min(self.session.now.step, max(len(place.steps) - 1, 0))
        guide = "first" if self.sound.guide != "none" and plan else "none"
        try:
            performance = count_performance(
                place.song, plan or Plan((), 0.0, 0.0, False), Ride(self.sound.here(), guide=guide, first=first)
            )
        except ValueError as fault:
            self.session.say(str(fault), alarm=True)
            return
        self.sound.play(performance)
        self.session.say(f"count {place.song.count}" + ("" if self.sound.port else "  (no port: m = sound)"))

    def toggle(self) -> None:
        """Count in and play from here, round the loop if there is one; or stop."""
        if self.on or self._waits:
            self.stop("stopped")
            return
        from engine.performance.play_along import play_along

        now = self.session.now
        found = self._open(self.toggle)
        if found is None:
            return
        song, plan = found
        first, last = now.loop or (0 if now.at_end else now.step, len(plan.steps) - 1)
        ride = self.sound.ride(first, last, loop=now.loop is not None)
        where = "the loop" if now.loop else "from the top" if first == 0 else "from here"
        words = f"{where}, count {song.count}"
        self._begin(lambda song, plan: play_along(song, plan, ride), song, plan, first, (), words)
        self._ridden = song, plan

    def climb(self) -> None:
        """Play the loop, or the section we are in, on a tempo ladder up to tonight's tempo; or stop."""
        if self.on or self._waits:
            self.stop("stopped")
            return
        from engine.performance.play_along import climb
        from engine.practice.tempo_ladder import equal_rungs

        found = self._open(self.climb)
        if found is None:
            return
        song, plan = found
        now = self.session.now
        first, last = now.loop or section_of(now.steps, min(now.step, len(now.steps) - 1))
        tempos = equal_rungs(song.tempo)
        ride = replace(self.sound.ride(first, last), lead=False)
        words = f"{'the loop' if now.loop else now.steps[first].section} at {', '.join(f'{t:g}' for t in tempos)}"
        self._begin(
            lambda song, plan: climb(song, plan, equal_rungs(song.tempo), ride), song, plan, first, tempos, words
        )

    def _open(self, deed: Callable[[], None]) -> "tuple[Song, Plan] | None":
        """Return the open song and its plan; without a song say so, without a plan do `deed` once it is there."""
        place, plan = self.session.now.here, self.plans.current
        if place is None or not place.steps:
            self.session.say("no song is open", alarm=True)
        elif plan is None:
            self._waits = True
            self.session.say("the hands are being planned: it begins when they are")
            self.session.tasks.start(self._when_planned(place.steps, deed))
        else:
            return place.song, plan
        return None

    async def _when_planned(self, steps: tuple[Step, ...], deed: Callable[[], None]) -> None:
        for _ in range(200):
            await asyncio.sleep(0.05)
            if not self._waits or self.session.now.steps is not steps:
                break
            if self.plans.current is not None:
                self._waits = False
                deed()
        self._waits = False

    def _begin(
        self,
        make: "Callable[[Song, Plan], Performance]",
        song: "Song",
        plan: "Plan",
        first: int,
        tempos: tuple[float, ...],
        words: str,
    ) -> None:
        self._make, self._tempos, self._first = make, tempos, first
        self._performance = performance = make(song, plan)
        self._steps, self._song = self.session.now.steps, song
        self._move(first)
        self.sound.play(performance)
        here = "" if self.sound.port else "  (no port: m = sound)"
        self.session.say(f"{words}{here}")

    # Another key, tempo or voicing while it is played

    def _changed(self, _before: Rehearsal, after: Rehearsal) -> None:
        """Go on in what the song has become: until it is planned no chord of what it was is struck."""
        place = after.here
        if not self.on or place is None or self._song is None or place.song is self._song:
            return
        if _shape(place.steps) != _shape(self._steps):
            return  # Another song, or other bars: the next step finds that out.
        if [step.chord for step in place.steps] != [step.chord for step in self._steps]:
            self.sound.mute()
        self._steps, self._song = place.steps, place.song
        self.session.tasks.start(self._go_on(place.song))

    async def _go_on(self, song: "Song") -> None:
        for _ in range(500):
            place, plan = self.session.now.here, self.plans.current
            if not self.on or place is None or place.song is not song or self._song is not song:
                return
            if plan is not None:
                self._exchange(song, plan)
                return
            if "planning" in self.session.notices:
                break
            await asyncio.sleep(0.02)
        self.stop(f"stopped: no hands for the song as it is now; {KEY}", alarm=True)

    def _exchange(self, song: "Song", plan: "Plan") -> None:
        assert self._make is not None
        assert self._performance is not None
        performance = self._make(song, plan)
        if _order(performance) != _order(self._performance):
            self.stop(f"stopped: the song has changed; {KEY}")
            return
        if self._tempos:
            from engine.practice.tempo_ladder import equal_rungs

            self._tempos = equal_rungs(song.tempo)
        else:
            self._ridden = song, plan
        self._performance = performance
        self.sound.go_on(performance)

    def stop(self, words: str, alarm: bool = False) -> None:
        """End it; nothing sounds on."""
        self._end()
        self.sound.hush()
        self.sound.lead()
        self.session.say(words, alarm=alarm)

    def _end(self) -> None:
        ridden, self._ridden = self._ridden, None
        if self.ended is not None:
            self.ended(ridden)
        self._performance, self.due, self.lamp = None, None, ""
        self._waits = False

    def stepped(self) -> None:
        """The place has changed: by the player's own key the player takes over."""
        if self.on and not self._moving:
            self.stop(f"stopped: you step; {KEY}")

    # What the clock says

    def hear(self, event: "ClockEvent") -> None:
        """Follow a mark of the clock's."""
        if event.kind == "beat":
            # One that was on its way when the music was stopped lights nothing any more.
            if self.sound.playing is not None:
                self._light(event.value)
        elif event.kind == "end":
            self.lamp = ""
            if self.on and event.text:
                self.stop(f"stopped: {event.text}; {KEY}", alarm=True)
            elif self.on:
                self._finish(len(self._steps))
        elif event.kind == "step" and self.on:
            self._step(event)
        elif event.kind == "rung" and self.on and event.value < len(self._tempos):
            self.session.say(f"{event.value + 1} of {len(self._tempos)}: tempo {self._tempos[event.value]:g}")

    def _light(self, strength: int) -> None:
        # An offbeat of a divided count belongs to the beat before it.
        if strength > 0:
            self._beat = 1 if strength == 3 else self._beat + 1
        self.lamp = f"{'●' if strength >= 2 else '○' if strength else '·'} {self._beat}"

    def _step(self, event: "ClockEvent") -> None:
        place = self.session.now.here
        if place is None or place.steps is not self._steps:
            self.stop(f"stopped: the song has changed; {KEY}")
            return
        step = self._steps[event.value]
        self.due = event.seconds
        # A song that is taken up inside a bar has no first beat to count from.
        self._beat = max(int(step.beat) - 1, 0)
        self._move(event.value)

    def _move(self, index: int) -> None:
        now = self.session.now
        if now.step == index or not self._steps:
            return
        kept = index < len(self._steps) and now.now is not None and now.now.until
        same = bool(kept) and section_start(self._steps, index) == section_start(self._steps, now.step)
        words, alarm = self.session.message, self.session.alarm
        self._moving = True
        try:
            self.session.become(replace(now, step=index, cued=now.cued and same))
        finally:
            self._moving = False
        self.session.message, self.session.alarm = words, alarm

    def _finish(self, end: int) -> None:
        ladder = bool(self._tempos)
        self._move(self._first if ladder else end)
        if not ladder and self.session.now.here is not None:
            self.session.now = replace(self.session.now, walked=self.session.now.walked | {self.session.now.here.file})
        self._end()
        self.sound.playing = None
        self.sound.lead()


def _shape(steps: tuple[Step, ...]) -> list[tuple[object, ...]]:
    """Return what two keys of one song have in common."""
    return [(step.written, step.bar, step.beat, step.beats, step.meter, step.until) for step in steps]


def _order(performance: "Performance") -> list[int]:
    """Return the steps in the order in which they are played."""
    return [mark.value for mark in performance.marks if mark.kind == "step"]


def section_of(steps: tuple[Step, ...], step: int) -> tuple[int, int]:
    """Return the first and last step of the section's pass that a step lies in."""
    first = section_start(steps, step)
    after = next((index for index in range(first + 1, len(steps)) if steps[index].section_start), len(steps))
    return first, after - 1
