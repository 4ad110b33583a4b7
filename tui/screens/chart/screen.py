"""The open song in bars, each chord over the effort of the shift into it: find, pin and loop hard spots here."""

from dataclasses import replace
from typing import ClassVar

from engine.errors import EngineError
from engine.planning.model import PlannedStep
from engine.song.model import Step
from tui.input.prompts import SYMBOLS, Prompt
from tui.input.typed_bars import bar_reading
from tui.persistence.song_files import BarTaken, WrittenBar
from tui.screens.chart.changing import ChangingBars
from tui.screens.context import Context
from tui.screens.page import Page
from tui.screens.voicings import ChoosingVoicings
from tui.session import decisions, navigation
from tui.session.bar_notes import bar_place
from tui.session.session import in_a_line
from tui.session.steps import bar_starts
from tui.widgets.cells import Rows, blank, pad, text_row, text_rows
from tui.widgets.chart import LEGEND, chart_rows, step_at
from tui.widgets.drawn import Drawn
from tui.widgets.keyboard import keyboard_rows, song_range
from tui.widgets.lettering import pretty, written
from tui.widgets.moves import moves_rows

UNWRITTEN = "not written: "


class ChartScreen(Page, ChoosingVoicings, ChangingBars):
    """A cursor goes through the steps; the hands at the cursor are drawn below the bars."""

    kind: ClassVar[str] = "chart"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.cursor = min(self.session.now.step, max(0, len(self.session.now.steps) - 1))
        self.loop_start: int | None = None
        self._rank, self._ranked = 0, False
        self._bar: WrittenBar | None = None

    # What is shown

    def heading(self) -> tuple[str, str]:
        place, plan = self.session.now.here, self.context.plans.current
        if place is None:
            return "no song is open", ""
        effort = f"effort {plan.effort:.0f}" if plan else "planning ..."
        return f"BARS  {place.song.title}", f"{effort}  {self._loop_words()}"

    def _loop_words(self) -> str:
        if self.loop_start is not None:
            return "loop from here to ...: l again"
        return "loop marked" if self.session.now.loop else ""

    def body(self, width: int, height: int) -> Rows:
        now, plan = self.session.now, self.context.plans.current
        steps = plan.steps if plan else tuple(_bare(step) for step in now.steps)
        if not steps:
            return blank(width, height)
        self.cursor = max(0, min(self.cursor, len(steps) - 1))
        hands = _hands(height)
        rows = chart_rows(steps, self.cursor, width, height - hands - 2, self.pinned_steps(), self._loop())
        told = text_rows(self._words(steps[self.cursor]), width, "cue")
        rows += told[:2] if len(told) > 1 else [*told, text_row(f" {LEGEND}", width, "dim")]
        if hands and plan:
            low, high = song_range(plan)
            here, coarse = self.tried or steps[self.cursor], self.context.display.coarse
            rows += pad(moves_rows(here, width, 2, coarse), width, 2)
            rows += keyboard_rows(here, None, low, high, width, hands - 2, coarse=coarse)
        return rows

    def clicked(self, part: Drawn, x: int, y: int) -> None:
        """Put the cursor on the bar that was clicked."""
        plan, (width, height) = self.context.plans.current, part.size
        steps = plan.steps if plan else tuple(_bare(step) for step in self.session.now.steps)
        room = height - _hands(height) - 2
        step = step_at(steps, self.cursor, width, room, x, y) if part.id == "body" and y < room else None
        if step is not None:
            self.cursor = step
            self.show_now()

    def _words(self, planned: PlannedStep) -> str:
        step = planned.step
        terms = ", ".join(f"{name} {value:.1f}" for name, value in planned.terms if value >= 0.05)
        warning = f"  ! {planned.warnings[0]}" if planned.warnings else ""
        method = f", {planned.method}" if planned.method else ""
        where = f"{written(step.symbol)}, {bar_place(step)}"
        return f"{where}: effort {planned.effort:.1f}{method}  {terms}{warning}"

    def _loop(self) -> tuple[int, int] | None:
        if self.loop_start is not None:
            return min(self.loop_start, self.cursor), max(self.loop_start, self.cursor)
        return self.session.now.loop

    def pinned_steps(self) -> frozenset[int]:
        """Return the steps whose voicing is pinned, at every pass."""
        place = self.session.now.here
        pinned = {pin.place for pin in place.song.pins} if place else set()
        return frozenset(index for index, step in enumerate(self.session.now.steps) if step.place in pinned)

    # Deeds

    def action_move(self, direction: int) -> None:
        self.cursor = max(0, min(self.cursor + direction, len(self.session.now.steps) - 1))
        self.show_now()

    def action_line(self, direction: int) -> None:
        starts = bar_starts(self.session.now.steps)
        after = [start for start in starts if start > self.cursor]
        before = [start for start in starts if start < self.cursor]
        if direction > 0 and after:
            self.cursor = after[0]
        elif direction < 0 and before:
            self.cursor = before[-1]
        self.show_now()

    def action_hardest(self) -> None:
        """Go to the hardest shift of the song; pressed again, to the next easier one."""
        plan = self.context.plans.current
        if plan is None:
            self.session.say("the plan is still being made")
            return
        ranked = sorted(range(len(plan.steps)), key=lambda i: (-plan.steps[i].effort, i))
        again = self._ranked and ranked[self._rank % len(ranked)] == self.cursor
        self._ranked = True
        self._rank = (self._rank + 1) % len(ranked) if again else 0
        self.cursor = ranked[self._rank]
        self.session.say(f"number {self._rank + 1} of the hardest shifts")

    def action_pin(self) -> None:
        plan = self.context.plans.current
        if plan is None:
            self.session.say("the plan is still being made")
            return
        step = plan.steps[self.cursor].step
        pinned = self.cursor in self.pinned_steps()
        pin = None if pinned else decisions.pin_as_planned(plan.steps[self.cursor])
        if self.session.attempt(lambda: decisions.pinned(self.session.now, pin, step.section, step.bar, step.beat)):
            self.session.say(f"{written(step.symbol)} {'is free again' if pinned else 'is pinned as it stands'}")

    def action_loop(self) -> None:
        now = self.session.now
        if self.loop_start is not None:
            self.session.become(navigation.looped(now, self.loop_start, self.cursor))
            self.loop_start = None
            self.session.say("loop: the stand goes round it until l clears it here")
        elif now.loop is not None:
            self.session.become(navigation.unlooped(now))
            self.session.say("loop cleared")
        else:
            self.loop_start = self.cursor
            self.show_now()

    def action_open(self) -> None:
        if self.cursor != self.session.now.step:
            self.session.become(navigation.to_step(self.session.now, self.cursor))
        self.action_close()

    # The bar in the song's own file

    def action_edit(self) -> None:
        """Ask for the bar's chords at once: what is typed next is for them."""
        if not self.session.now.steps:
            return
        step = self.session.now.steps[self.cursor]
        try:
            bar = self._bar = self.context.files().songs.written(step)
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
            return
        where = f"{bar_place(step)} in {pretty(bar.key)}"
        self.ask(Prompt("bar", self.session.now.song, typed=bar.chords, subject=bar.meter, question=where))

    def action_text(self) -> None:
        if self.session.now.here is not None:
            self.context.edit(self.session.now.here.file)

    async def _rewrite(self, step: Step, chords: str, before: str) -> None:
        try:
            await self.context.files().songs.rewrite(step, chords, before)
        except BarTaken as taken:
            # Somebody else was here too: nothing is written over without asking.
            self._bar = replace(self._bar, text=taken.text) if self._bar else None
            question = f"{bar_place(step)} is now {taken.text} in the file: write yours over it?"
            self.ask(Prompt("confirm", self.session.now.song, subject=chords, question=question))
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
        else:
            self.session.say(f"{bar_place(step)} is written into the song's file")

    # Answers

    def chord_in_question(self) -> int | None:
        return self.cursor if self.session.now.steps else None

    def action_other(self) -> None:
        if self.session.now.steps:
            self.look_for_voicings()

    def accept(self, prompt: Prompt) -> None:
        if prompt.kind == "other":
            self.session.attempt(lambda: self.pinned(prompt))
            return
        chords = prompt.typed if prompt.kind in SYMBOLS else prompt.subject
        if prompt.kind in SYMBOLS and bar_reading(prompt, self.session.now)[1]:
            # The line stays open with its fault, so that nothing typed is lost.
            where = prompt.question.removeprefix(UNWRITTEN)
            self.ask(replace(prompt, question=f"{UNWRITTEN}{where}"))
        elif prompt.kind == "bars":
            self.put_in(prompt)
        elif self._bar is not None:
            step = self.session.now.steps[self.cursor]
            self.run_worker(self._rewrite(step, chords, self._bar.text), exclusive=True, group="edit")


def _hands(height: int) -> int:
    """Return the rows of the hands below the bars, in a page of so many."""
    return 0 if height < 14 else 8 if height < 30 else 11


def _bare(step: Step) -> PlannedStep:
    """Return a step as it is shown before there is a plan."""
    return PlannedStep(step, "", (), (), (), (), 0.0, ())
