"""How the open song or one section of it is played, and by which hands: each change shows at once what it does to
effort and keyboard."""

from dataclasses import replace
from math import ceil
from typing import ClassVar

from engine.errors import EngineError
from engine.hand.keyboard import span
from engine.hand.reach import LEAST, MOST, reach_mm, typed_reach
from engine.planning.model import Plan
from engine.song.model import MANNER
from tui.input.prompts import Prompt
from tui.screens.context import Context
from tui.screens.page import Page
from tui.screens.song.lines import (
    HORNS,
    OF_SET,
    SIDES,
    WHOLE,
    WIDE,
    Line,
    band_lines,
    choices,
    following,
    part_line,
    reach_words,
    section_lines,
    song_lines,
    value,
)
from tui.session import decisions
from tui.session.bar_notes import bar_place
from tui.session.manner_words import MANNER_WORDS
from tui.session.rehearsal import Rehearsal
from tui.session.session import in_a_line
from tui.widgets.cells import Rows, blank, choice_row, pad, text_row
from tui.widgets.keyboard import keyboard_rows, song_range
from tui.widgets.lettering import written
from tui.widgets.moves import moves_rows

NUDGE = 5.0
"""Millimetres that left and right change a reach by."""

HANDS, LOW = 9, 14
"""Rows of the keyboard with its moves, and the height from which it is drawn."""


class SongScreen(Page):
    """A row a value; left and right change it for tonight, `keep` writes it into the song's own file."""

    kind: ClassVar[str] = "song"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.cursor = 0
        self._part = WHOLE
        self._seen: float | None = None
        """The effort as it was last known."""
        self._before: float | None = None
        """The effort before the last change."""

    def heading(self) -> tuple[str, str]:
        place = self.session.now.here
        return (f"SONG  {place.song.title}", self._effort_words()) if place else ("no song is open", "")

    def _effort_words(self) -> str:
        plan = self.context.plans.current
        now = f"{plan.effort:.0f}" if plan else "..."
        if self._before is None:
            return f"effort {now}"
        change = f" ({plan.effort - self._before:+.0f})" if plan else ""
        return f"effort {self._before:.0f} → {now}{change}"

    # What is shown

    def lines(self) -> list[Line]:
        """Return every row, none while no song is open."""
        place = self.session.now.here
        if place is None:
            return []
        own = place.own_manner or place.song.manner
        set_list, part = self.session.now.set_list, self.part
        if part != WHOLE:
            return [part_line(part, place.song), *section_lines(place.song, part, own, set_list)]
        singers = ", ".join(singer.name for singer in self.context.player().singers)
        return [
            part_line(part, place.song),
            *song_lines(place.song, own, set_list),
            *(Line(f"reach {side}", f"reach, {side}", reach_words(self._reach[at]), self._reach_holds())
              for at, side in enumerate(SIDES)),
            *band_lines(set_list),
            Line("singer", "singer", singers or "no singer yet", "Enter compares the keys"),
        ]  # fmt: skip

    @property
    def part(self) -> str:
        """The section that is set, `WHOLE` for the song; one that the song has no longer is the song."""
        return self._part if self._part in self._parts_of_song() else WHOLE

    def _parts_of_song(self) -> tuple[str, ...]:
        place = self.session.now.here
        return (WHOLE, *(section.name for section in place.song.sections)) if place else (WHOLE,)

    @property
    def _reach(self) -> tuple[float, float]:
        return self.session.now.set_list.reach or self.context.plans.reach

    def _reach_holds(self) -> str:
        return "as this set's file says" if self.session.now.set_list.reach else "every set"

    def body(self, width: int, height: int) -> Rows:
        lines, plan = self.lines(), self.context.plans.current
        self._seen = plan.effort if plan else self._seen
        if not lines:
            return blank(width, height)
        self.cursor = max(0, min(self.cursor, len(lines) - 1))
        hands = HANDS if plan and height >= LOW else 0
        room = max(1, height - (hands or 1))
        first = max(0, min(self.cursor - room // 2, len(lines) - room))
        rows: Rows = [
            choice_row(self._row(line, width), width, index == self.cursor)
            for index, line in list(enumerate(lines))[first : first + room]
        ]
        if not plan or not hands:
            return [*rows, text_row(f"  {self._help()}", width, "cue")]
        return pad(rows, width, height - hands) + self._hands(plan, width, hands)

    def _row(self, line: Line, width: int) -> str:
        words = f" {line.words:<{WIDE}} {line.value}"
        holds = f"  ({line.holds})" if line.holds else ""
        return words + holds if len(words) + len(holds) < width else words

    def _help(self) -> str:
        """Return what the line under the cursor waits for."""
        name = self.lines()[self.cursor].name
        if not name.startswith("reach"):
            return ""
        held = self.context.held()
        if len(held) > 1:
            return f"held: {span(held[0], held[-1]):.0f} mm: Enter takes it"
        return "hold your widest two white keys, then Enter; or Enter and type them"

    def _hands(self, plan: Plan, width: int, height: int) -> Rows:
        """Return the chord that the stand stands at, as the hands take it now."""
        here, coarse = plan.steps[self._at(plan)], self.context.display.coarse
        low, high = song_range(plan)
        method = f", {here.method}" if here.method else ""
        where = f" {written(here.step.symbol)}, {bar_place(here.step)}{method}"
        return [
            text_row(f" {words}" if (words := self._help()) else where, width, "cue" if words else "dim"),
            *pad(moves_rows(here, width, 2, coarse), width, 2),
            *keyboard_rows(here, None, low, high, width, height - 3, coarse=coarse),
        ]

    def _at(self, plan: Plan) -> int:
        """Return the step that is drawn: that of the stand, or the first of the section that is set."""
        at = min(self.session.now.step, len(plan.steps) - 1)
        if self.part in (WHOLE, plan.steps[at].step.section):
            return at
        return next((planned.step.index for planned in plan.steps if planned.step.section == self.part), at)

    # Keys

    def action_move(self, direction: int) -> None:
        self.cursor = max(0, min(self.cursor + direction, len(self.lines()) - 1))
        self.show_now()

    def _line(self) -> str:
        """Return what the line under the cursor sets, "" where no song is open."""
        lines = self.lines()
        return lines[min(self.cursor, len(lines) - 1)].name if lines else ""

    def action_change(self, direction: int) -> None:
        name, now, part = self._line(), self.session.now, self.part
        if name == "part":
            self._part = following(part, self._parts_of_song(), direction)
            self.show_now()
        elif name in MANNER and now.here is not None:
            values = choices(name, [rhythm.name for rhythm in self.context.sound.rhythms()], part)
            chosen = following(value(now.here.song, name, part), values, direction)
            self._remember()
            self.session.attempt(lambda: self._played(name, chosen))
        elif name.startswith(OF_SET):
            self._remember()
            self.session.attempt(lambda: self._accompanied(name.removeprefix(OF_SET), direction))
        elif name.startswith("reach"):
            self._take_reach(name, max(ceil(LEAST), min(MOST, self._reach[_hand(name)] + NUDGE * direction)))
        elif name:
            self.action_take()

    def _played(self, name: str, chosen: str) -> Rehearsal:
        now, unfold = self.session.now, self.session.unfold
        if self.part == WHOLE:
            return decisions.played(now, now.song, name, chosen, unfold)
        return decisions.part_played(now, now.song, self.part, name, chosen, unfold)

    def _accompanied(self, name: str, direction: int) -> Rehearsal:
        now = self.session.now
        horns = following(now.set_list.horns, HORNS, direction)
        return decisions.accompanied(now, name, horns if name == "horns" else not getattr(now.set_list, name))

    def action_take(self) -> None:
        name, held = self._line(), self.context.held()
        if name == "singer":
            self.context.open("keys")
        elif name.startswith("reach") and len(held) > 1:
            self._take_reach(name, ceil(span(held[0], held[-1])))
        elif name.startswith("reach"):
            question = f"{name}: widest white keys (C E), a tenth, or mm"
            self.ask(Prompt("reach", self.session.now.song, subject=name, question=question))
        else:
            self.action_change(1)

    def accept(self, prompt: Prompt) -> None:
        try:
            self._take_reach(prompt.subject, typed_reach(prompt.typed))
        except ValueError as fault:
            self.ask(replace(prompt, question=str(fault)))

    def _take_reach(self, name: str, millimetres: float) -> None:
        """Keep the reach of a hand for every set, and plan by it."""
        try:
            reach_mm(millimetres)
        except ValueError as fault:
            self.session.say(str(fault), alarm=True)
            return
        if self.session.now.set_list.reach:
            self.session.say("this set's file says the reach: change it there", alarm=True)
            return
        hands = [*self.context.plans.reach]
        hands[_hand(name)] = float(millimetres)
        self._remember()
        self.context.plans.reach = hands[0], hands[1]
        self.context.keep(reach=self.context.plans.reach)
        self.context.plans.want()
        self.show_now()

    def _remember(self) -> None:
        self._before = self._seen

    def action_keep(self) -> None:
        """Write the value under the cursor into the song's own file."""
        name, place = self._line(), self.session.now.here
        if place is None or name not in MANNER:
            if place is None:
                return
            words = "a reach is kept for every set" if name.startswith("reach") else "that holds for the whole set"
            self.session.say("left and right choose the song or a section" if name == "part" else words)
            return
        self.session.tasks.start(self._keep_for_good(place.file, name, value(place.song, name, self.part), self.part))

    async def _keep_for_good(self, file: str, name: str, wanted: str, part: str) -> None:
        from engine.song.writer import set_manner, set_part

        songs = self.context.files().songs
        try:
            before = songs.files.text(file)
            after = set_manner(before, {name: wanted}) if part == WHOLE else set_part(before, part, {name: wanted})
            title = await songs.rewrite_text(file, before, after)
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
        else:
            where = f"{title}, {part}" if part else title
            said = wanted or "as the song"
            self.session.say(f"{where}: {MANNER_WORDS[name]} {said} for good, in its own file")

    def action_undo(self) -> None:
        self._remember()
        super().action_undo()

    def action_redo(self) -> None:
        self._remember()
        super().action_redo()


def _hand(name: str) -> int:
    return SIDES.index(name.removeprefix("reach "))
