"""Bars of the song's own file put in, taken out and copied, at the cursor of the page of bars."""

from engine.errors import EngineError
from engine.song.bar_edits import copied_bars, delete_bars, gone_places, insert_bars, shifted_places
from engine.song.bar_places import Moved
from tui.input.prompts import Prompt
from tui.screens.changing_files import Change, ChangingFiles
from tui.session.bar_notes import bar_place
from tui.session.session import in_a_line
from tui.widgets.lettering import pretty


class ChangingBars(ChangingFiles):
    """What a page with a cursor in the steps, and with the start of a loop, needs to change bars."""

    cursor: int
    loop_start: int | None

    def _marked(self) -> tuple[str, int, int] | None:
        """Return (section, first, last) of the bars from the loop's mark to the cursor, else of the cursor's."""
        steps = self.session.now.steps
        if not steps:
            return None
        here = steps[self.cursor]
        other = steps[self.loop_start] if self.loop_start is not None else here
        if other.section != here.section:
            self.session.say("the bars from the loop's mark to here are of two sections", alarm=True)
            return None
        return here.section, min(here.bar, other.bar), max(here.bar, other.bar)

    def action_insert(self, typed: str = "") -> None:
        if not self.session.now.steps:
            return
        step = self.session.now.steps[self.cursor]
        try:
            bar = self.context.files().songs.written(step)
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
            return
        where = f"{bar_place(step)} in {pretty(bar.key)}: new bars"
        self.ask(Prompt("bars", self.session.now.song, typed=typed, subject=bar.meter, question=where))

    def action_delete(self) -> None:
        if (marked := self._marked()) is not None:
            section, first, last = marked
            gone = gone_places(section, first, last)
            words = f"{bars_words(section, first, last)} taken out"
            self._change_bars(lambda text: delete_bars(text, section, first, last), words, gone)

    def action_copy(self) -> None:
        place, marked = self.session.now.here, self._marked()
        if place is None or marked is None:
            return
        try:
            text = self.context.files().songs.files.text(place.file)
            self.context.files().songs.copied = copied_bars(text, *marked)
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
        else:
            self.session.say(f"{bars_words(*marked)} copied: v puts it in elsewhere")

    def action_paste(self) -> None:
        if self.context.files().songs.copied:
            self.action_insert(self.context.files().songs.copied)
        else:
            self.session.say("no bar is copied yet: c copies it")

    def put_in(self, prompt: Prompt) -> None:
        step = self.session.now.steps[self.cursor]
        after = step.bar - prompt.choice % 2
        count = prompt.typed.strip().strip("|").count("|") + 1
        words = f"{count} bar{'s' if count > 1 else ''} put into {step.section}"
        moved = shifted_places(step.section, after, count)
        self._change_bars(lambda text: insert_bars(text, step.section, after, prompt.typed), words, moved)

    def _change_bars(self, change: Change, words: str, moved: Moved) -> None:
        self.loop_start = None
        self.change_file(change, words, moved)


def bars_words(section: str, first: int, last: int) -> str:
    """Name bars of a section: Verse bar 3, Verse bars 3 to 6."""
    return f"{section} bar {first}" if first == last else f"{section} bars {first} to {last}"
