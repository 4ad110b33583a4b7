"""The open song in bars, each chord over the effort of the shift into it: find, pin and loop hard spots here."""

from dataclasses import replace
from typing import TYPE_CHECKING, Any, ClassVar

from engine.errors import EngineError
from engine.plan.model import PlannedStep
from engine.song.model import Pin, Step
from tui import decisions, restart
from tui import rehearsal as stand
from tui.desk import short_words
from tui.keymap import bindings
from tui.prompts import Prompt, bar_reading
from tui.screens.page import Page
from tui.screens.stand_picture import pretty_key
from tui.steps import bar_starts
from tui.widgets.cells import Rows, blank, pad, text_row
from tui.widgets.chart import LEGEND, chart_rows
from tui.widgets.keyboard import keyboard_rows, song_range
from tui.widgets.moves import moves_rows

if TYPE_CHECKING:
    from tui.app import StandApp


UNWRITTEN = "not written: "


class ChartScreen(Page):
    """A cursor goes through the steps; the hands at the cursor are drawn below the bars."""

    kind: ClassVar[str] = "chart"
    forward: ClassVar[str] = "chart.open"
    BINDINGS = bindings("chart")

    def __init__(self, app: "StandApp") -> None:
        super().__init__(app)
        self.cursor = min(self.desk.now.step, max(0, len(self.desk.now.steps) - 1))
        self.loop_start: int | None = None
        self._rank, self._ranked = 0, False
        self._choices: tuple[Any, ...] = ()

    # What is shown

    def heading(self) -> tuple[str, str]:
        place, plan = self.desk.now.here, self.desk.plan
        if place is None:
            return "no song is open", ""
        effort = f"effort {plan.effort:.0f}" if plan else "planning ..."
        return f"BARS  {place.song.title}", f"{effort}  {self._loop_words()}"

    def _loop_words(self) -> str:
        if self.loop_start is not None:
            return "loop from here to ...: l again"
        return "loop marked" if self.desk.now.loop else ""

    def body(self, width: int, height: int) -> Rows:
        now, plan = self.desk.now, self.desk.plan
        steps = plan.steps if plan else tuple(_bare(step) for step in now.steps)
        if not steps:
            return blank(width, height)
        self.cursor = max(0, min(self.cursor, len(steps) - 1))
        hands = 0 if height < 14 else 8 if height < 30 else 11
        rows = chart_rows(steps, self.cursor, width, height - hands - 2, self.pins(), self._loop())
        rows.append(text_row(f" {self._words(steps[self.cursor])}", width, "cue"))
        rows.append(text_row(f" {LEGEND}", width, "dim"))
        if hands and plan:
            low, high = song_range(plan)
            before = steps[self.cursor - 1] if self.cursor else None
            rows += pad(moves_rows(steps[self.cursor], width, 2), width, 2)
            rows += keyboard_rows(steps[self.cursor], before, low, high, width, hands - 2)
        return rows

    def _words(self, planned: PlannedStep) -> str:
        step = planned.step
        terms = ", ".join(f"{name} {value:.1f}" for name, value in planned.terms if value >= 0.05)
        warning = f"  ! {planned.warnings[0]}" if planned.warnings else ""
        method = f", {planned.method}" if planned.method else ""
        return f"{step.symbol}, {step.section} bar {step.bar}: effort {planned.effort:.1f}{method}  {terms}{warning}"

    def _loop(self) -> tuple[int, int] | None:
        if self.loop_start is not None:
            return min(self.loop_start, self.cursor), max(self.loop_start, self.cursor)
        return self.desk.now.loop

    def pins(self) -> frozenset[int]:
        """Return the steps whose voicing is pinned, at every pass."""
        place = self.desk.now.here
        pinned = {(pin.section, pin.bar, pin.beat) for pin in place.song.pins} if place else set()
        return frozenset(
            index for index, step in enumerate(self.desk.now.steps) if (step.section, step.bar, step.beat) in pinned
        )

    # Deeds

    def action_move(self, direction: int) -> None:
        self.cursor = max(0, min(self.cursor + direction, len(self.desk.now.steps) - 1))
        self.show_now()

    def action_line(self, direction: int) -> None:
        starts = bar_starts(self.desk.now.steps)
        after = [start for start in starts if start > self.cursor]
        before = [start for start in starts if start < self.cursor]
        if direction > 0 and after:
            self.cursor = after[0]
        elif direction < 0 and before:
            self.cursor = before[-1]
        self.show_now()

    def action_hardest(self) -> None:
        """Go to the hardest shift of the song; pressed again, to the next easier one."""
        plan = self.desk.plan
        if plan is None:
            self.desk.say("the plan is still being made")
            return
        ranked = sorted(range(len(plan.steps)), key=lambda i: (-plan.steps[i].effort, i))
        again = self._ranked and ranked[self._rank % len(ranked)] == self.cursor
        self._ranked = True
        self._rank = (self._rank + 1) % len(ranked) if again else 0
        self.cursor = ranked[self._rank]
        self.desk.say(f"number {self._rank + 1} of the hardest shifts")

    def action_pin(self) -> None:
        plan = self.desk.plan
        if plan is None:
            self.desk.say("the plan is still being made")
            return
        step = plan.steps[self.cursor].step
        pinned = self.cursor in self.pins()
        pin = None if pinned else _pin(plan.steps[self.cursor])
        if self.desk.try_to(lambda: decisions.pinned(self.desk.now, pin, step.section, step.bar, step.beat)):
            self.desk.say(f"{step.symbol} {'is free again' if pinned else 'is pinned as it stands'}")

    def action_loop(self) -> None:
        now = self.desk.now
        if self.loop_start is not None:
            self.desk.become(restart.looped(now, self.loop_start, self.cursor))
            self.loop_start = None
            self.desk.say("loop: the stand goes round it until l clears it here")
        elif now.loop is not None:
            self.desk.become(restart.unlooped(now))
            self.desk.say("loop cleared")
        else:
            self.loop_start = self.cursor
            self.show_now()

    def action_undo(self) -> None:
        self.desk.try_to(lambda: stand.undo(self.desk.now))

    def action_redo(self) -> None:
        self.desk.try_to(lambda: stand.redo(self.desk.now))

    def action_open(self) -> None:
        if self.cursor != self.desk.now.step:
            self.desk.become(restart.to_step(self.desk.now, self.cursor, "bars"))
        self.action_close()

    # The bar in the song's own file

    def action_edit(self) -> None:
        if self.desk.now.steps:
            self.run_worker(self._edit(self.desk.now.steps[self.cursor]), exclusive=True, group="edit")

    async def _edit(self, step: Step) -> None:
        try:
            chords, key, meter = await self.desk.written_bar(step)
        except EngineError as fault:
            self.desk.say(short_words(fault), alarm=True)
            return
        where = f"{step.section} bar {step.bar} in {pretty_key(key)}"
        self.ask(Prompt("bar", self.desk.now.song, typed=chords, subject=meter, question=where))

    async def _rewrite(self, step: Step, chords: str) -> None:
        try:
            await self.desk.rewrite_bar(step, chords)
        except EngineError as fault:
            self.desk.say(short_words(fault), alarm=True)
        else:
            self.desk.say(f"{step.section} bar {step.bar} is written into the song's file")

    # Other voicings

    def action_other(self) -> None:
        if not self.desk.now.steps:
            return
        self.desk.say("looking for other voicings ...")
        self.run_worker(self._find(self.cursor), exclusive=True, group="other")

    async def _find(self, index: int) -> None:
        try:
            self._choices = tuple(await self.desk.alternatives(index))
        except EngineError as fault:
            self.desk.say(str(fault).splitlines()[0], alarm=True)
            return
        if index != self.cursor:
            return
        if not self._choices:
            self.desk.say("no other voicing fits the hands", alarm=True)
            return
        self.ask(self.changed(Prompt("other", self.desk.now.song, subject=str(index))))

    def changed(self, prompt: Prompt) -> Prompt:
        from tui.screens.voicings import chosen_words

        return chosen_words(prompt, self._choices, self.desk.now)

    def accept(self, prompt: Prompt) -> None:
        if prompt.kind == "bar":
            _, fault = bar_reading(prompt, self.desk.now)
            if fault:
                # The line stays open with its fault, so that nothing typed is lost.
                where = prompt.question.removeprefix(UNWRITTEN)
                self.ask(replace(prompt, question=f"{UNWRITTEN}{where}"))
            else:
                step = self.desk.now.steps[self.cursor]
                self.run_worker(self._rewrite(step, prompt.typed), exclusive=True, group="edit")
            return
        from tui.screens.voicings import chosen_pin

        pin = chosen_pin(prompt, self._choices, self.desk.now)
        self.desk.try_to(lambda: decisions.pinned(self.desk.now, pin, pin.section, pin.bar, pin.beat))


def _pin(planned: PlannedStep) -> Pin:
    step = planned.step
    return Pin(
        step.section,
        step.bar,
        step.beat,
        tuple(note.key for note in planned.left),
        tuple(note.key for note in planned.right),
        tuple(note.finger for note in planned.left),
        tuple(note.finger for note in planned.right),
    )


def _bare(step: Step) -> PlannedStep:
    """Return a step as it is shown before there is a plan."""
    return PlannedStep(step, "", (), (), (), (), 0.0, ())
