"""The shed: tonight's hardest shifts over the whole set, practised round and round on a tempo ladder."""

from collections.abc import Callable, Hashable
from dataclasses import replace
from datetime import datetime
from functools import partial
from time import monotonic
from typing import TYPE_CHECKING, ClassVar

from textual import events

from engine.errors import EngineError
from engine.planning.model import PlannedStep, Request
from engine.practice import strain
from engine.practice.log import Try
from engine.practice.practice_plan import bounds, tonight
from engine.practice.ranking import HardShift, Ranking
from engine.practice.tempo_ladder import after_stop, done, notch
from engine.song.model import Pin, SetSong
from engine.song.section_tempo import FASTEST
from tui.persistence import practice_log
from tui.playback.incoming import SETTLING
from tui.screens.context import Context
from tui.screens.page import Page
from tui.screens.practice.choice import Choice
from tui.screens.practice.narrower import narrower_request, narrower_steps
from tui.screens.practice.picture import ShedView, shed_rows
from tui.screens.practice.round import GUIDES, Round
from tui.screens.practice.running import HANDS, Running, running_rows
from tui.screens.practice.set_ranking import SetRanking
from tui.screens.practice.tries import Tries
from tui.screens.practice.turns import Turns
from tui.session import decisions, navigation
from tui.session import rehearsal as stand
from tui.session.session import in_a_line
from tui.widgets.cells import Rows
from tui.widgets.drawn import Draw
from tui.widgets.lettering import written
from tui.widgets.lines import Ends

if TYPE_CHECKING:
    from tui.midi.clock import ClockEvent

LATELY = 300
"""Tries that are looked at for pauses and repetitions: more than an evening has."""


class ShedScreen(Page):
    """A row a shift, the hardest first; the chosen one is tried, and each try is kept.

    `turns` is tonight's plan, None while there is none; `narrow` are the two chords of the narrower version while it is
    shown; `hands` says which hands practise.
    """

    kind: ClassVar[str] = "shed"

    def __init__(self, context: Context, now: Callable[[], datetime] | None = None) -> None:
        super().__init__(context)
        self.now = now or (lambda: datetime.now().astimezone())
        self.tries = Tries(self.session)
        ranking = SetRanking(self.session, context.plans)
        self.choice = Choice(ranking, lambda: self.tries.memories, self.now)
        self.round = Round(context.sound)
        self.minutes = 30
        self.turns: Turns | None = None
        self.narrow: tuple[PlannedStep, PlannedStep] | None = None
        self.hands = HANDS[0]
        self._visit: list[Try] = []

    def on_mount(self) -> None:
        self.run_worker(self._load(), group="practice log")
        self.set_interval(1.0, self._tick)

    async def _load(self) -> None:
        await self.tries.load()
        self.show_now()

    # What is shown

    @property
    def ranking(self) -> Ranking:
        return self.choice.ranking

    @property
    def chosen(self) -> HardShift | None:
        return self.choice.hard

    def show_now(self) -> None:
        self.choice.rank()
        held = self.context.held()
        if self.round.moved(held):
            at = monotonic()
            self.set_timer(SETTLING, lambda: self._listen(at))
        super().show_now()

    def heading(self) -> tuple[str, str]:
        ranking, hard = self.ranking, self.chosen
        if self.round.on and hard is not None:
            hands = "" if self.hands == "both" else f"  {self.hands} hand"
            return f"SHED  {self.context.transport.lamp}", f"♩={self.round.tempo:g}{hands}"
        count = len(self.tries.tries)
        kept = "1 try kept" if count == 1 else f"{count} tries kept"
        return (
            f"SHED  {self.session.now.set_list.title}",
            f"{len(ranking.shifts)} shifts, {ranking.tight} tight  {kept}",
        )

    def _ends(self) -> Ends:
        """A word at the beginning of a round does not hide the beat that it begins with."""
        ends = super()._ends()
        return replace(ends, right=self.context.transport.lamp) if self.round.on and not ends.right else ends

    def picture(self) -> tuple[Draw, Hashable]:
        running = self._round_view()
        return super().picture() if running is None else (running_rows, running)

    def body(self, width: int, height: int) -> Rows:
        return shed_rows(self.view(), width, height)

    def _round_view(self) -> Running | None:
        """Return what is shown while a spot goes round."""
        if not self.round.on or not self.round.steps:
            return None
        keys = [key for step in self.round.steps for key in step.keys]
        tries = [one for one in self._visit if self.chosen and one.sign == self.chosen.shift.sign]
        clean = sum(one.clean for one in tries)
        return Running(
            self.round.steps,
            self.round.present,
            self.hands,
            (min(keys, default=48) - 2, max(keys, default=72) + 2),
            clean,
            len(tries) - clean,
            self.round.words or "right = clean  left = stopped  space = end",
            self.context.display.style,
            self.context.display.coarse,
            self.context.transport.lamp,
        )

    def view(self) -> ShedView:
        """Return all that is shown while nothing goes round."""
        hard, turns = self.chosen, self.turns
        return ShedView(
            ranking=self.ranking,
            cursor=self.choice.cursor,
            memories=self.tries.memories,
            tempo=self.choice.tempo(hard) if hard else 0.0,
            span=self.choice.set.span,
            planned=self.choice.set.planned,
            evening=turns.evening if turns else None,
            turn=turns.turn if turns else 0,
            left=turns.left(monotonic()) if turns else 0.0,
            minutes=self.minutes,
            advice=self._advice(),
            narrow=self.narrow,
            caution=not self.tries.log.cautioned,
            heard=self.round.words,
            late=self.tries.late.get(hard.shift.sign) if hard else None,
        )

    def _advice(self) -> tuple[str, ...]:
        planned = self.choice.planned()
        if planned is None:
            return ()
        place, plan = planned
        wide = strain.stretches((place.song, plan), self.context.plans.request(place).reach)
        return strain.advice(self.tries.tries[-LATELY:], self.now(), wide)

    def _tick(self) -> None:
        if self.is_current and self.tries.log.cautioned and self.turns is not None:
            self.show_now()

    # Keys

    def takes(self, event: events.Key) -> bool:
        if self.tries.log.cautioned:
            return super().takes(event)
        if event.key in ("escape", "q"):
            self.action_close()
        elif event.key in ("enter", "space"):
            self.tries.cautioned()
            self._write(partial(practice_log.add_caution, self.now()))
            self.show_now()
        return True

    def action_move(self, direction: int) -> None:
        self.narrow = None
        self._stop()
        self.choice.move(direction)
        self.show_now()

    def action_close(self) -> None:
        self._stop()
        super().action_close()

    def action_open(self) -> None:
        """Open the spot on the stand, looped, at the song's own tempo."""
        hard, planned = self.chosen, self.choice.planned()
        if hard is None or planned is None or not self._open_song(hard.tightest.song):
            return
        first, last = bounds(hard.tightest, len(planned[1].steps))
        there = navigation.to_step(self.session.now, first)
        self.session.become(navigation.looped(there, first, last))
        self.action_close()

    def _open_song(self, song: int) -> bool:
        """Open a song of the set on the stand; tell whether it is open."""
        now = self.session.now
        return song == now.song or self.session.attempt(lambda: stand.open_song(now, song))

    # Trying

    def action_verdict(self, word: str) -> None:
        """Keep a try of the chosen shift: clean or stopped; the next one stands a notch higher or lower."""
        hard = self.chosen
        if hard is None:
            return
        place, tempo = hard.tightest, self.choice.tempo(hard)
        when = self.now().replace(microsecond=0)
        one = Try(when, hard.shift.sign, tempo, word == "clean", place.symbols, place.title, self.round.late)
        self.choice.moved = True
        self.choice.own_tempo.pop(one.sign, None)
        self.tries.remember(one)
        self._visit.append(one)
        self._write(partial(practice_log.add, one))
        if self.turns and self.turns.now and not self.turns.left(monotonic()):
            self.action_next()
        elif self.round.on:
            self._ride(hard)
        self._say_next(hard, one)

    def action_take_back(self) -> None:
        """Take back the last verdict of this visit: it was a slip of the finger."""
        if not self._visit:
            self.session.say("no try of this visit to take back", alarm=True)
            return
        self._visit.pop()
        one = self.tries.forget()
        self.choice.own_tempo[one.sign] = one.tempo
        self.choice.choose(one.sign)
        self._write(partial(practice_log.take_back, self.now()))
        self.session.say(f"taken back: {'clean' if one.clean else 'stopped'} at {one.tempo:g}")

    def _write(self, write: Callable[[], None]) -> None:
        self.run_worker(self.tries.write(write), group="practice log")

    def _say_next(self, hard: HardShift, one: Try) -> None:
        goal = hard.tightest.tempo
        if done(self.tries.memories.get(one.sign), goal):
            self.session.say(f"clean three times at {goal:g}: back into {one.title}")
        else:
            word = "clean" if one.clean else "stopped"
            self.session.say(f"{word} at {one.tempo:g}, next {self.choice.tempo(hard):g}")

    def action_nudge(self, direction: int) -> None:
        """Take a notch more or less without a try."""
        hard = self.chosen
        if hard is None:
            return
        tempo = self.choice.tempo(hard)
        further = after_stop(tempo) if direction < 0 else tempo + notch(tempo)
        self.choice.own_tempo[hard.shift.sign] = min(further, FASTEST)
        if self.round.on:
            self._ride(hard)
        self.show_now()

    # Going round

    def _stop(self) -> None:
        """End the round, and its beat."""
        self.round.stop()
        self.context.transport.lamp = ""

    def action_ride(self) -> None:
        """Count in and go round the spot at the ladder's tempo, or end that."""
        hard = self.chosen
        if self.round.on or hard is None:
            self._stop()
            self.show_now()
        else:
            self._ride(hard)

    def _ride(self, hard: HardShift) -> None:
        planned = self.choice.planned()
        if planned is None:
            return
        tempo = self.choice.tempo(hard)
        self.round.connect(self.context.player().port_in)
        self.round.begin(hard, planned[0].song, planned[1], tempo, self.hands)
        if not self.round.on:
            self.session.say(f"the {self.hands} hand rests here")
            return
        port = "" if self.context.sound.port else "  (no port: on the stand m = sound)"
        self.session.say(f"round and round at {tempo:g}{port}")

    def action_hands(self) -> None:
        """Practise with both hands, the left alone, the right alone."""
        self.hands = HANDS[(HANDS.index(self.hands) + 1) % len(HANDS)]
        if self.round.on and self.chosen is not None:
            self._ride(self.chosen)
        self.session.say("both hands" if self.hands == "both" else f"the {self.hands} hand alone")

    def action_guide(self) -> None:
        """Choose what sounds while a spot goes round."""
        names = list(GUIDES)
        self.round.guide = names[(names.index(self.round.guide) + 1) % len(names)]
        if self.round.on and self.chosen is not None:
            self._ride(self.chosen)
        self.session.say(f"you hear {GUIDES[self.round.guide]}")

    def heard(self, event: "ClockEvent") -> None:
        """Follow the chords of the spot as the clock marks them."""
        if self.round.on and event.kind == "step":
            self.round.step(event.value)

    def _listen(self, at: float) -> None:
        """Judge what is held, if it still is; a try heard through to its end is kept without a key."""
        if self.round.listen(self.context.held(), at) and self.round.heard is not None:
            clean = self.round.heard.clean
            if clean is not None:
                self.action_verdict("clean" if clean else "stopped")
            super().show_now()

    def action_hear(self) -> None:
        """Sound the chord the shift leads to."""
        hard, sound = self.chosen, self.context.sound
        if hard is None:
            return
        if not sound.port:
            self.session.say("no port chosen: on the stand m = sound", alarm=True)
            return
        self._stop()
        coming = (self.narrow or hard.steps)[1]
        sound.strike(coming)
        self.session.say(f"{coming.step.symbol} sounds")

    # Tonight's plan

    def action_minutes(self, key: str) -> None:
        self.minutes = int(key) * 10 if key.isdigit() else self.minutes
        self._begin()

    def action_tonight(self) -> None:
        """Begin tonight's plan; a second time leaves it."""
        if self.turns and self.turns.now:
            self.turns = None
            self.session.say("tonight's plan is left; all tries are kept")
        else:
            self._begin()

    def _begin(self) -> None:
        lengths = tuple(len(place.steps) for place in self.session.now.songs)
        evening = tonight(self.ranking, self.tries.memories, float(self.minutes), self.now(), lengths)
        if not evening.turns:
            self.turns = None
            self.session.say("nothing to practise yet: no shift is ranked", alarm=True)
            return
        self._go_to(Turns(evening, began=monotonic()))

    def action_next(self) -> None:
        """Go to the next turn of tonight's plan."""
        if self.turns is None:
            self.session.say("t = tonight's plan first")
        else:
            self._go_to(self.turns.next(monotonic()))

    def _go_to(self, turns: Turns) -> None:
        self._stop()
        self.turns, self.narrow, self.choice.moved = turns, None, True
        spot = turns.now.spot if turns.now else None
        if spot is not None:
            self.choice.choose(spot.hard.shift.sign)
            names = " › ".join(written(symbol) for symbol in spot.hard.tightest.symbols)
            again = ", again after a night" if spot.again else ""
            self.session.say(f"{names} at {self.choice.tempo(spot.hard):g}{again}")
        elif turns.now:
            self.session.say("pause: let the hands rest; n goes on")
        self.show_now()

    # The narrower version

    def action_narrow(self) -> None:
        """Show the shift as it would be planned for a hand that reaches a white key less, or the plan's again."""
        hard, planned = self.chosen, self.choice.planned()
        if self.narrow is not None or hard is None or planned is None:
            self.narrow = None
            self.show_now()
            return
        try:
            request = narrower_request(self.context.plans.request(planned[0]))
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
            return
        self.session.say("looking for a narrower version ...")
        self.run_worker(self._narrow(hard, planned[0], request), exclusive=True, group="narrow")

    async def _narrow(self, hard: HardShift, place: SetSong, request: Request) -> None:
        try:
            steps = narrower_steps(await self.context.plans.planner.plan(place.steps, request), hard)
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
            return
        if self.chosen is hard:
            self.narrow = steps
            self.session.say(f"for hands that reach {request.reach[0]:.0f} mm")

    def action_keep(self) -> None:
        """Pin the narrower version's two chords for tonight."""
        hard = self.chosen
        if self.narrow is None or hard is None:
            self.session.say("v shows a narrower version first")
            return
        pins = [decisions.pin_as_planned(planned) for planned in self.narrow]
        if self._open_song(hard.tightest.song) and all(map(self._pinned, pins)):
            self.narrow = None
            self.session.say("the narrower version is pinned for tonight; on the stand u takes it back")

    def _pinned(self, pin: Pin) -> bool:
        now = self.session.now
        return self.session.attempt(lambda: decisions.pinned(now, pin, pin.section, pin.bar, pin.beat))
