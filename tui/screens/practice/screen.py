"""The shed: tonight's hardest shifts over the whole set, practised round and round on a tempo ladder."""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from time import monotonic
from typing import ClassVar

from textual import events

from engine.practice import strain
from engine.practice.log import Try
from engine.practice.practice_plan import bounds
from engine.practice.ranking import HardShift
from engine.practice.tempo_ladder import after_stop, done, notch
from engine.song.section_tempo import FASTEST
from tui.persistence import practice_log
from tui.playback.incoming import SETTLING
from tui.screens.context import Context
from tui.screens.practice.picture import ShedView, shed_rows
from tui.screens.practice.tonight import Evening
from tui.session import navigation
from tui.widgets.cells import Rows

LATELY = 300
"""Tries that are looked at for pauses and repetitions: more than an evening has."""


class ShedScreen(Evening):
    """A row a shift, the hardest first; the chosen one is tried, and each try is kept."""

    kind: ClassVar[str] = "shed"

    def __init__(self, context: Context, now: Callable[[], datetime] | None = None) -> None:
        super().__init__(context, now)
        self._count = 0

    def on_mount(self) -> None:
        self.app.run_worker(self._load(), group="practice log")
        self.set_interval(1.0, self._tick)

    async def _load(self) -> None:
        await self.keeping.load()
        self.show_now()

    # What is shown

    def show_now(self) -> None:
        self.rank()
        if self.round.moved(self.context.held()):
            at = monotonic()
            self.set_timer(SETTLING, lambda: self._listen(at))
        super().show_now()

    def heading(self) -> tuple[str, str]:
        ranking = self.ranking
        lamp = self.context.transport.lamp if self.round.on else ""
        tries = len(self.keeping.tries)
        kept = "1 try kept" if tries == 1 else f"{tries} tries kept"
        right = f"{len(ranking.shifts)} shifts, {ranking.tight} tight  {kept}"
        return f"SHED  {self.session.now.set_list.title}  {lamp}", right

    def body(self, width: int, height: int) -> Rows:
        self.rank()
        return shed_rows(self.view(), width, height)

    def view(self) -> ShedView:
        """Return all that is shown."""
        hard, turns = self.chosen, self.turns
        return ShedView(
            ranking=self.ranking,
            cursor=min(self.cursor, max(0, len(self.ranking.shifts) - 1)),
            memories=self.keeping.memories,
            tempo=self.tempo(hard) if hard else 0.0,
            span=self.set_ranking.span,
            planned=self.set_ranking.planned,
            evening=turns.evening if turns else None,
            turn=turns.turn if turns else 0,
            left=turns.left(monotonic()) if turns else 0.0,
            minutes=self.minutes,
            advice=self._advice(hard),
            narrow=self.narrow,
            caution=not self.keeping.log.cautioned,
            heard=self.round.words,
            late=self.keeping.late.get(hard.shift.sign) if hard else None,
        )

    def _advice(self, hard: HardShift | None) -> tuple[str, ...]:
        planned = self.planned(hard)
        if planned is None:
            return ()
        place, plan = planned
        wide = strain.stretches((place.song, plan), self.context.plans.request(place).reach)
        return strain.advice(self.keeping.tries[-LATELY:], self.now(), wide)

    # Keys

    def takes(self, event: events.Key) -> bool:
        if self.keeping.log.cautioned:
            return super().takes(event)
        if event.key in ("escape", "q"):
            self.action_close()
        elif event.key in ("enter", "space"):
            self.keeping.cautioned()
            self._write(partial(practice_log.add_caution, self.now()))
            self.show_now()
        return True

    def action_move(self, direction: int) -> None:
        self.moved, self.narrow = True, None
        self.round.stop()
        self.cursor = max(0, min(self.cursor + direction, len(self.ranking.shifts) - 1))
        self.show_now()

    def action_close(self) -> None:
        self.round.stop()
        super().action_close()

    # Trying

    def action_verdict(self, word: str) -> None:
        """Keep a try of the chosen shift: clean or stopped; the next one stands a notch higher or lower."""
        hard = self.chosen
        if hard is None:
            return
        place, tempo = hard.tightest, self.tempo(hard)
        when = self.now().replace(microsecond=0)
        one = Try(when, hard.shift.sign, tempo, word == "clean", place.symbols, place.title, self.round.late)
        self.moved = True
        self.own_tempo.pop(one.sign, None)
        self.keeping.remember(one)
        self._count += 1
        self._write(partial(practice_log.add, one))
        if self.turns and self.turns.now and not self.turns.left(monotonic()):
            self.action_next()
        elif self.round.on:
            self._ride(hard)
        self._say_next(hard, one)

    def action_take_back(self) -> None:
        """Take back the last verdict of this visit: it was a slip of the finger."""
        if not self._count:
            self.session.say("no try of this visit to take back", alarm=True)
            return
        one = self.keeping.forget()
        self._count -= 1
        self.own_tempo[one.sign] = one.tempo
        self.choose(one.sign)
        self._write(partial(practice_log.take_back, self.now()))
        self.session.say(f"taken back: {'clean' if one.clean else 'stopped'} at {one.tempo:g}")

    def _write(self, write: Callable[[], None]) -> None:
        self.app.run_worker(self.keeping.write(write), group="practice log")

    def _say_next(self, hard: HardShift, one: Try) -> None:
        goal = hard.tightest.tempo
        if done(self.keeping.memories.get(one.sign), goal):
            self.session.say(f"clean three times at {goal:g}: back into {one.title}")
        else:
            self.session.say(f"{'clean' if one.clean else 'stopped'} at {one.tempo:g}, next {self.tempo(hard):g}")

    def action_nudge(self, direction: int) -> None:
        """Take a notch more or less without a try."""
        hard = self.chosen
        if hard is None:
            return
        tempo = self.tempo(hard)
        further = after_stop(tempo) if direction < 0 else tempo + notch(tempo)
        self.own_tempo[hard.shift.sign] = min(further, FASTEST)
        if self.round.on:
            self._ride(hard)
        self.show_now()

    def action_ride(self) -> None:
        """Count in and go round the spot at the ladder's tempo, or end that."""
        hard = self.chosen
        if self.round.on or hard is None:
            self.round.stop()
            self.show_now()
        else:
            self._ride(hard)

    def _ride(self, hard: HardShift) -> None:
        planned = self.planned(hard)
        if planned is None:
            return
        tempo = self.tempo(hard)
        self.round.connect(self.context.player().port_in)
        self.round.begin(hard, planned[0].song, planned[1], tempo)
        port = "" if self.context.sound.port else "  (no MIDI port: on the stand m = sound)"
        self.session.say(f"round and round at {tempo:g}: right = clean, left = stopped, space = end{port}")

    def _listen(self, at: float) -> None:
        """Judge what is held, if it still is; a try heard through to its end is kept without a key."""
        if self.round.listen(self.context.held(), at) and self.round.heard is not None:
            clean = self.round.heard.clean
            if clean is not None:
                self.action_verdict("clean" if clean else "stopped")
            super().show_now()

    def action_hear(self) -> None:
        """Sound the chord the shift leads to."""
        hard = self.chosen
        if hard is None:
            return
        if not self.context.sound.port:
            self.session.say("no MIDI port chosen: on the stand m = sound", alarm=True)
            return
        self.round.stop()
        self.context.sound.clock.sound_step((self.narrow or hard.steps)[1], self.context.sound.touch(), seconds=2.0)

    def action_open(self) -> None:
        """Open the spot on the stand, looped, at the song's own tempo."""
        hard = self.chosen
        planned = self.planned(hard)
        if hard is None or planned is None or not self.open_song(hard.tightest.song):
            return
        first, last = bounds(hard.tightest, len(planned[1].steps))
        self.session.become(navigation.looped(navigation.to_step(self.session.now, first), first, last))
        self.action_close()

    def _tick(self) -> None:
        if self.app.screen is self and self.keeping.log.cautioned and self.turns is not None:
            self.show_now()
