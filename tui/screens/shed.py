"""The shed: tonight's hardest shifts over the whole set, practised round and round on a tempo ladder."""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from time import monotonic
from typing import TYPE_CHECKING, ClassVar

from textual import events

from engine.plan.model import Plan
from engine.practice import care
from engine.practice.evening import bounds, tonight
from engine.practice.ladder import after_stop, done, first_tempo, notch
from engine.practice.log import Try
from engine.practice.ranking import HardShift, Ranking
from engine.song.model import SetSong
from tui import decisions, practice_log, restart
from tui import rehearsal as stand
from tui.keymap import bindings
from tui.screens.shed_keeping import Keeping
from tui.screens.shed_narrow import Narrowing
from tui.screens.shed_picture import ShedView, shed_rows
from tui.screens.shed_ranking import SetRanking
from tui.screens.shed_round import Round
from tui.screens.shed_turns import Turns
from tui.widgets.cells import Rows
from tui.widgets.lettering import written

if TYPE_CHECKING:
    from tui.app import StandApp

SETTLING = 0.06
"""Seconds without a new note after which what is held is judged (see perform/listening)."""

LATELY = 300
"""Tries that are looked at for pauses and repetitions: more than an evening has."""


class ShedScreen(Narrowing):
    """A row a shift, the hardest first; the chosen one is tried, and each try is kept."""

    kind: ClassVar[str] = "shed"
    forward: ClassVar[str] = "shed.open"
    BINDINGS = bindings("shed")

    def __init__(self, app: "StandApp", now: Callable[[], datetime] | None = None) -> None:
        super().__init__(app)
        self.now = now or (lambda: datetime.now().astimezone())
        self.cursor = 0
        self.minutes = 30
        self.keeping = Keeping(self.desk)
        self.turns: Turns | None = None
        self.round = Round(app.sound)
        self._set = SetRanking(self.desk)
        self._own_tempo: dict[str, float] = {}
        self._moved = False
        self._count = 0

    def on_mount(self) -> None:
        self.app.run_worker(self._load(), group="practice log")
        self.set_interval(1.0, self._tick)

    async def _load(self) -> None:
        await self.keeping.load()
        self.show_now()

    # What is shown

    def show_now(self) -> None:
        self._rank()
        if self.round.moved(self.app.held):
            at = monotonic()
            self.set_timer(SETTLING, lambda: self._listen(at))
        super().show_now()

    def _rank(self) -> None:
        # Until the player has chosen, the hardest of what is planned by now is shown.
        chosen = self.chosen if self._moved else None
        if self._set.look() and chosen is not None:
            self._choose(chosen.shift.sign)

    @property
    def ranking(self) -> Ranking:
        return self._set.ranking

    @property
    def chosen(self) -> HardShift | None:
        shifts = self.ranking.shifts
        return shifts[min(self.cursor, len(shifts) - 1)] if shifts else None

    def _choose(self, sign: str) -> None:
        """Put the cursor on a shift, if the set has it."""
        for number, hard in enumerate(self.ranking.shifts):
            if hard.shift.sign == sign:
                self.cursor = number

    def planned(self, hard: HardShift | None) -> tuple[SetSong, Plan] | None:
        """Return the song where a shift is tightest, with its plan."""
        place = self._set.place(hard.tightest.song) if hard else None
        plan = self.desk.plan_of(place) if place else None
        return (place, plan) if place and plan else None

    def tempo(self, hard: HardShift) -> float:
        """Return the tempo of the next try of a shift."""
        sign = hard.shift.sign
        own = self._own_tempo.get(sign)
        return own if own is not None else first_tempo(hard, self.keeping.memories.get(sign), self.now())

    def heading(self) -> tuple[str, str]:
        ranking = self.ranking
        lamp = self.app.stand.lamp if self.round.on else ""
        tries = len(self.keeping.tries)
        kept = "1 try kept" if tries == 1 else f"{tries} tries kept"
        right = f"{len(ranking.shifts)} shifts, {ranking.tight} tight  {kept}"
        return f"SHED  {self.desk.now.set_list.title}  {lamp}", right

    def body(self, width: int, height: int) -> Rows:
        self._rank()
        return shed_rows(self.view(), width, height)

    def view(self) -> ShedView:
        """Return all that is shown."""
        hard, turns = self.chosen, self.turns
        return ShedView(
            ranking=self.ranking,
            cursor=min(self.cursor, max(0, len(self.ranking.shifts) - 1)),
            memories=self.keeping.memories,
            tempo=self.tempo(hard) if hard else 0.0,
            span=self._set.span,
            planned=self._set.planned,
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
        wide = care.stretches((place.song, plan), self.desk.request(place).reach)
        return care.advice(self.keeping.tries[-LATELY:], self.now(), wide)

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

    def deed(self, key: str) -> str | None:
        action = super().deed(key)
        # A figure is a number of minutes, and which one it is only the key knows.
        return f"minutes({int(key) * 10})" if action and action.startswith("minutes") and key.isdigit() else action

    def action_move(self, direction: int) -> None:
        self._moved, self.narrow = True, None
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
        self._moved = True
        self._own_tempo.pop(one.sign, None)
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
            self.desk.say("no try of this visit to take back", alarm=True)
            return
        one = self.keeping.forget()
        self._count -= 1
        self._own_tempo[one.sign] = one.tempo
        self._choose(one.sign)
        self._write(partial(practice_log.take_back, self.now()))
        self.desk.say(f"taken back: {'clean' if one.clean else 'stopped'} at {one.tempo:g}")

    def _write(self, write: Callable[[], None]) -> None:
        self.app.run_worker(self.keeping.write(write), group="practice log")

    def _say_next(self, hard: HardShift, one: Try) -> None:
        goal = hard.tightest.tempo
        if done(self.keeping.memories.get(one.sign), goal):
            self.desk.say(f"clean three times at {goal:g}: back into {one.title}")
        else:
            self.desk.say(f"{'clean' if one.clean else 'stopped'} at {one.tempo:g}, next {self.tempo(hard):g}")

    def action_nudge(self, direction: int) -> None:
        """Take a notch more or less without a try."""
        hard = self.chosen
        if hard is None:
            return
        tempo = self.tempo(hard)
        further = after_stop(tempo) if direction < 0 else tempo + notch(tempo)
        self._own_tempo[hard.shift.sign] = min(further, decisions.TEMPO[1])
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
        self.round.connect(self.app.player.port_in if self.app.player else "")
        self.round.begin(hard, planned[0].song, planned[1], tempo)
        port = "" if self.app.sound.port else "  (beats on the screen only: no MIDI port)"
        self.desk.say(f"round and round at {tempo:g}: right = clean, left = stopped, space = end{port}")

    def _listen(self, at: float) -> None:
        """Judge what is held, if it still is; a try heard through to its end is kept without a key."""
        if self.round.listen(self.app.held, at) and self.round.heard is not None:
            clean = self.round.heard.clean
            if clean is not None:
                self.action_verdict("clean" if clean else "stopped")
            super().show_now()

    def action_hear(self) -> None:
        """Sound the chord the shift leads to."""
        hard = self.chosen
        if hard is None:
            return
        if not self.app.sound.port:
            self.desk.say("no MIDI port chosen: on the stand m = sound", alarm=True)
            return
        self.round.stop()
        self.app.sound.clock.sound_step((self.narrow or hard.steps)[1], self.app.sound.touch(), seconds=2.0)

    def action_open(self) -> None:
        """Open the spot on the stand, looped, at the song's own tempo."""
        hard = self.chosen
        planned = self.planned(hard)
        if hard is None or planned is None or not self.open_song(hard.tightest.song):
            return
        first, last = bounds(hard.tightest, len(planned[1].steps))
        self.desk.become(restart.looped(restart.to_step(self.desk.now, first, "shed"), first, last))
        self.action_close()

    def open_song(self, song: int) -> bool:
        return song == self.desk.now.song or self.desk.try_to(lambda: stand.open_song(self.desk.now, song))

    # Tonight

    def action_minutes(self, minutes: int) -> None:
        self.minutes = minutes
        self._begin()

    def action_tonight(self) -> None:
        """Begin tonight's plan; a second time leaves it."""
        if self.turns and self.turns.now:
            self.turns = None
            self.desk.say("tonight's plan is left; all tries are kept")
        else:
            self._begin()

    def _begin(self) -> None:
        lengths = tuple(len(place.steps) for place in self.desk.now.songs)
        evening = tonight(self.ranking, self.keeping.memories, float(self.minutes), self.now(), lengths)
        if not evening.turns:
            self.turns = None
            self.desk.say("nothing to practise yet: no shift is ranked", alarm=True)
            return
        self._go_to(Turns(evening, began=monotonic()))

    def action_next(self) -> None:
        """Go to the next turn of tonight's plan."""
        if self.turns is None:
            self.desk.say("t = tonight's plan first")
        else:
            self._go_to(self.turns.next(monotonic()))

    def _go_to(self, turns: Turns) -> None:
        self.round.stop()
        self.turns, self.narrow, self._moved = turns, None, True
        here = turns.now.spot if turns.now else None
        if here is not None:
            self._choose(here.hard.shift.sign)
            names = " › ".join(written(symbol) for symbol in here.hard.tightest.symbols)
            self.desk.say(f"{names} at {self.tempo(here.hard):g}" + (", again after a night" if here.again else ""))
        elif turns.now:
            self.desk.say("pause: let the hands rest; n goes on")
        self.show_now()

    def _tick(self) -> None:
        if self.app.screen is self and self.keeping.log.cautioned and self.turns is not None:
            self.show_now()
