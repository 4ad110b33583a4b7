"""The shed: tonight's hardest shifts over the whole set, practised round and round on a tempo ladder."""

import asyncio
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from time import monotonic
from typing import TYPE_CHECKING, ClassVar

from textual import events

from engine.errors import EngineError
from engine.plan.model import Plan, PlannedStep, Request
from engine.practice import care
from engine.practice.evening import Evening, tonight
from engine.practice.ladder import after_stop, done, first_tempo, notch
from engine.practice.log import Log, Memory, Try, remembered
from engine.practice.ranking import HardShift, Met, Ranking, meetings, ranked
from engine.song.model import Pin, SetSong
from tui import practice_log
from tui import rehearsal as stand
from tui.keymap import bindings
from tui.screens.page import Page
from tui.screens.shed_picture import ShedView, shed_rows
from tui.widgets.cells import Rows
from tui.widgets.lettering import written

if TYPE_CHECKING:
    from tui.app import StandApp

Now = Callable[[], datetime]


class ShedScreen(Page):
    """A row a shift, the hardest first; the chosen one is tried, and each try is kept."""

    kind: ClassVar[str] = "shed"
    forward: ClassVar[str] = "shed.open"
    BINDINGS = bindings("shed")

    def __init__(self, app: "StandApp", now: Now | None = None) -> None:
        super().__init__(app)
        self.now = now or (lambda: datetime.now().astimezone())
        self.cursor = 0
        self.minutes = 30
        self.kept = Log(cautioned=True)
        self.memories: dict[str, Memory] = {}
        self.ranking = Ranking(())
        self.evening: Evening | None = None
        self.turn = 0
        self.riding = False
        self.narrow: tuple[PlannedStep, PlannedStep] | None = None
        self._own_tempo: dict[str, float] = {}
        self._turn_began = 0.0
        self._met: dict[int, tuple[Plan, list[Met]]] = {}
        self._ranked_for: tuple[int, ...] = ()
        self._span = (36, 84)
        self._moved = False
        self._writing = asyncio.Lock()

    def on_mount(self) -> None:
        self.app.run_worker(self._load(), group="practice log")
        self.set_interval(1.0, self._tick)

    async def _load(self) -> None:
        """Read the log; a player who has never been here sees the caution first."""
        try:
            log = await asyncio.to_thread(practice_log.load)
        except EngineError as fault:
            self.desk.trouble["practice"] = str(fault).splitlines()[0]
            self.desk.say(str(fault), alarm=True)
            return
        self.kept = replace(log, tries=log.tries + self.kept.tries)
        self._remember()
        if log.bad:
            count = len(log.bad)
            lines = f"{count} lines of the practice log are" if count > 1 else "a line of the practice log is"
            self.desk.say(f"{lines} unreadable and skipped ({log.bad[0]}); nothing was changed")
        self.show_now()

    def _remember(self) -> None:
        self.memories = remembered(self.kept.tries)

    # What is shown

    def show_now(self) -> None:
        self._rank()
        super().show_now()

    def _rank(self) -> None:
        """Rank what is planned by now; a plan that is known already is not gone through again."""
        places = [(number, place, self.desk.plan_of(place)) for number, place in enumerate(self.desk.now.songs)]
        planned = [(number, place, plan) for number, place, plan in places if plan is not None]
        seen = tuple(id(plan) for _, _, plan in planned) + tuple(hash(place.song.tempo) for _, place, _ in planned)
        if seen == self._ranked_for:
            return
        self._ranked_for = seen
        # Until the player has chosen, the hardest of what is planned by now is shown.
        chosen = self.chosen if self._moved else None
        self.ranking = ranked(met for entry in planned for met in meetings(entry[0], entry[1].song, entry[2]))
        keys = [key for _, _, plan in planned for step in plan.steps for key in step.keys]
        self._span = (min(keys, default=36), max(keys, default=84))
        if chosen is not None:
            self._choose(chosen.shift.sign)

    def _choose(self, sign: str) -> None:
        """Put the cursor on a shift, if the set has it."""
        for number, hard in enumerate(self.ranking.shifts):
            if hard.shift.sign == sign:
                self.cursor = number

    @property
    def chosen(self) -> HardShift | None:
        shifts = self.ranking.shifts
        return shifts[min(self.cursor, len(shifts) - 1)] if shifts else None

    def tempo(self, hard: HardShift) -> float:
        """Return the tempo of the next try of a shift."""
        sign = hard.shift.sign
        own = self._own_tempo.get(sign)
        return own if own is not None else first_tempo(hard, self.memories.get(sign), self.now())

    def heading(self) -> tuple[str, str]:
        ranking = self.ranking
        tries = sum(memory.tries for memory in self.memories.values())
        right = f"{len(ranking.shifts)} shifts, {ranking.tight} tight  {tries} tries kept"
        lamp = self.app.stand.lamp if self.riding else ""
        return f"SHED  {self.desk.now.set_list.title}  {lamp}", right

    def body(self, width: int, height: int) -> Rows:
        self._rank()
        return shed_rows(self.view(), width, height)

    def view(self) -> ShedView:
        """Return all that is shown."""
        hard = self.chosen
        songs = self.desk.now.songs
        planned = sum(self.desk.plan_of(place) is not None for place in songs)
        return ShedView(
            ranking=self.ranking,
            cursor=min(self.cursor, max(0, len(self.ranking.shifts) - 1)),
            memories=self.memories,
            tempo=self.tempo(hard) if hard else 0.0,
            span=self._span,
            planned=(planned, len(songs)),
            evening=self.evening,
            turn=self.turn,
            left=self._left(),
            minutes=self.minutes,
            advice=self._advice(hard) if hard else (),
            narrow=self.narrow,
            caution=not self.kept.cautioned,
        )

    def _advice(self, hard: HardShift) -> tuple[str, ...]:
        place = self._place(hard)
        plan = self.desk.plan_of(place) if place else None
        wide = care.stretches((place.song, plan), self.desk.request(place).reach) if place and plan else None
        return care.advice(self.kept.tries, self.now(), wide)

    def _place(self, hard: HardShift) -> SetSong | None:
        songs, number = self.desk.now.songs, hard.tightest.song
        return songs[number] if number < len(songs) else None

    # Keys

    def takes(self, event: events.Key) -> bool:
        if not self.kept.cautioned:
            if event.key in ("escape", "q"):
                self.action_close()
            elif event.key in ("enter", "space"):
                self._cautioned()
            return True
        return super().takes(event)

    def deed(self, key: str) -> str | None:
        # A figure is a number of minutes, and which one it is only the key knows.
        return f"minutes({int(key) * 10})" if key in "123456789" else super().deed(key)

    def _cautioned(self) -> None:
        self.kept = replace(self.kept, cautioned=True)
        when = self.now()
        self._keep(lambda: practice_log.add_caution(when))
        self.show_now()

    def action_move(self, direction: int) -> None:
        self._moved = True
        self.cursor = max(0, min(self.cursor + direction, len(self.ranking.shifts) - 1))
        self.narrow = None
        self._stop()
        self.show_now()

    def action_close(self) -> None:
        self._stop()
        super().action_close()

    # Trying

    def action_verdict(self, word: str) -> None:
        """Keep a try of the chosen shift: clean or stopped; the next one stands a notch higher or lower."""
        hard = self.chosen
        if hard is None:
            return
        self._moved = True
        clean, sign, tempo = word == "clean", hard.shift.sign, self.tempo(hard)
        one = Try(self.now().replace(microsecond=0), sign, tempo, clean, hard.tightest.symbols, hard.tightest.title)
        self.kept = replace(self.kept, tries=(*self.kept.tries, one))
        self._remember()
        self._own_tempo.pop(sign, None)
        self._keep(lambda: practice_log.add(one))
        self._say_next(hard, one)
        if self.evening is not None and self._left() <= 0 and self.turn < len(self.evening.turns):
            self.action_next()
        elif self.riding:
            self._ride(hard)
        self.show_now()

    def _say_next(self, hard: HardShift, one: Try) -> None:
        goal = hard.tightest.tempo
        if done(self.memories.get(hard.shift.sign), goal):
            self.desk.say(f"clean three times at {goal:g}: back into {hard.tightest.title}")
        elif one.clean:
            self.desk.say(f"clean at {one.tempo:g}, next {self.tempo(hard):g}")
        else:
            self.desk.say(f"stopped at {one.tempo:g}, next {self.tempo(hard):g}")

    def _keep(self, write: Callable[[], None]) -> None:
        async def keep() -> None:
            async with self._writing:
                try:
                    await asyncio.to_thread(write)
                except EngineError as fault:
                    self.desk.trouble["practice"] = str(fault).splitlines()[0]
                    self.desk.say(f"NOT KEPT: {fault}", alarm=True)
                    return
            self.desk.trouble.pop("practice", None)

        self.app.run_worker(keep(), group="practice log")

    def action_nudge(self, direction: int) -> None:
        """Take a notch more or less without a try."""
        hard = self.chosen
        if hard is None:
            return
        tempo = self.tempo(hard)
        further = after_stop(tempo) if direction < 0 else tempo + notch(tempo)
        self._own_tempo[hard.shift.sign] = min(further, stand.TEMPO[1])
        if self.riding:
            self._ride(hard)
        self.show_now()

    def action_ride(self) -> None:
        """Count in and go round the spot at the ladder's tempo, or stop."""
        hard = self.chosen
        if self.riding or hard is None:
            self._stop()
            self.show_now()
        else:
            self._ride(hard)

    def _ride(self, hard: HardShift) -> None:
        from engine.perform.play_along import Ride, play_along

        place = self._place(hard)
        plan = self.desk.plan_of(place) if place else None
        if place is None or plan is None:
            return
        first, last = self.spot(hard, plan)
        sound = self.app.sound
        ride = Ride(sound.touch(), guide="first" if sound.guide else "none", first=first, last=last, loop=True)
        tempo = self.tempo(hard)
        sound.clock.play(play_along(replace(place.song, tempo=tempo), plan, ride), delay=0.05)
        self.riding = True
        port = "" if sound.port else "  (beats on the screen only: no MIDI port)"
        self.desk.say(f"round and round at {tempo:g}: → clean, ← stopped, space = end{port}")

    @staticmethod
    def spot(hard: HardShift, plan: Plan) -> tuple[int, int]:
        """Return the first and last step of a spot: from one chord before the shift to one chord after."""
        place = hard.tightest
        return max(place.before - 1, 0), min(place.index + 1, len(plan.steps) - 1)

    def _stop(self) -> None:
        if self.riding:
            self.riding = False
            self.app.sound.clock.silence()

    def action_hear(self) -> None:
        """Sound the chord the shift leads to."""
        hard = self.chosen
        if hard is None:
            return
        if not self.app.sound.port:
            self.desk.say("no MIDI port chosen: on the stand m = sound", alarm=True)
            return
        self._stop()
        self.app.sound.clock.sound_step((self.narrow or hard.steps)[1], self.app.sound.touch(), seconds=2.0)

    def action_open(self) -> None:
        """Open the spot on the stand, looped, at the song's own tempo."""
        hard = self.chosen
        place = self._place(hard) if hard else None
        plan = self.desk.plan_of(place) if place else None
        if hard is None or plan is None:
            return
        first, last = self.spot(hard, plan)
        song = hard.tightest.song
        if song != self.desk.now.song and not self.desk.try_to(lambda: stand.open_song(self.desk.now, song)):
            return
        self.desk.become(stand.looped(stand.to_step(self.desk.now, first, "shed"), first, last))
        self.action_close()

    # Tonight

    def action_minutes(self, minutes: int) -> None:
        self.minutes = minutes
        self._begin()

    def action_tonight(self) -> None:
        """Begin tonight's plan; a second time leaves it."""
        if self.evening is not None and self.turn < len(self.evening.turns):
            self.evening = None
            self.desk.say("tonight's plan is left; all tries are kept")
        else:
            self._begin()

    def _begin(self) -> None:
        lengths = tuple(len(place.steps) for place in self.desk.now.songs)
        self.evening = tonight(self.ranking, self.memories, float(self.minutes), self.now(), lengths)
        if not self.evening.turns:
            self.evening = None
            self.desk.say("nothing to practise yet: no shift is ranked", alarm=True)
            return
        self._go_to(0)

    def action_next(self) -> None:
        """Go to the next turn of tonight's plan."""
        if self.evening is None:
            self.desk.say("t = tonight's plan first")
        else:
            self._go_to(self.turn + 1)

    def _go_to(self, turn: int) -> None:
        assert self.evening is not None
        self._stop()
        self._moved = True
        self.narrow = None
        self.turn, self._turn_began = turn, monotonic()
        if turn < len(self.evening.turns):
            spot = self.evening.turns[turn].spot
            if spot is None:
                self.desk.say("pause: let the hands rest; n goes on")
            else:
                self._choose(spot.hard.shift.sign)
                names = " › ".join(written(symbol) for symbol in spot.hard.tightest.symbols)
                self.desk.say(f"{names} at {self.tempo(spot.hard):g}" + (", again after a night" if spot.again else ""))
        self.show_now()

    def _left(self) -> float:
        """Return the seconds left of the present turn."""
        if self.evening is None or self.turn >= len(self.evening.turns):
            return 0.0
        return max(0.0, self.evening.turns[self.turn].minutes * 60 - (monotonic() - self._turn_began))

    def _tick(self) -> None:
        if self.app.screen is self and self.kept.cautioned and self.evening is not None:
            self.show_now()

    # A narrower version

    def action_narrow(self) -> None:
        """Show the shift as it would be planned for a hand that reaches a white key less, or the plan's again."""
        hard = self.chosen
        place = self._place(hard) if hard else None
        if self.narrow is not None or hard is None or place is None:
            self.narrow = None
            self.show_now()
            return
        request = care.narrower(self.desk.request(place))
        if request is None:
            self.desk.say("your reach is the narrowest that holds a seventh", alarm=True)
            return
        self.desk.say("looking for a narrower version ...")
        self.run_worker(self._narrow(hard, place, request), exclusive=True, group="narrow")

    async def _narrow(self, hard: HardShift, place: SetSong, request: Request) -> None:
        try:
            plan = await self.desk.planner.plan(place.steps, request)
        except EngineError as fault:
            self.desk.say(str(fault).splitlines()[0], alarm=True)
            return
        if self.chosen is not hard or self.app.screen is not self:
            return
        self.narrow = (plan.steps[hard.tightest.before], plan.steps[hard.tightest.index])
        same = all(one.keys == other.keys for one, other in zip(self.narrow, hard.steps, strict=True))
        self.desk.say(
            "this shift is as narrow already" if same else f"each hand reaches {request.reach[0]:.0f} mm here"
        )

    def action_keep(self) -> None:
        """Pin the narrower version's two chords for tonight."""
        hard = self.chosen
        if self.narrow is None or hard is None:
            self.desk.say("v shows a narrower version first")
            return
        song = hard.tightest.song
        if song != self.desk.now.song and not self.desk.try_to(lambda: stand.open_song(self.desk.now, song)):
            return
        for planned in self.narrow:
            pin = _pin(planned)
            if not self.desk.try_to(lambda pin=pin: self.desk.pinned(pin, pin.section, pin.bar, pin.beat)):  # type: ignore[misc]
                return
        self.narrow = None
        self.desk.say("the narrower version is pinned for tonight; on the stand u takes it back")


def _pin(planned: PlannedStep) -> Pin:
    step = planned.step
    keys = tuple(tuple(note.key for note in hand) for hand in (planned.left, planned.right))
    fingers = tuple(tuple(note.finger for note in hand) for hand in (planned.left, planned.right))
    return Pin(step.section, step.bar, step.beat, *keys, *fingers)
