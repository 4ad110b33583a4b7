"""A song's own file as text: written with cursor, selection, paste and undo, its faults shown while it is typed."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen

from engine.errors import ChartError, EngineError
from engine.song.reader import read_song
from tui.screens.context import Context
from tui.screens.edit.text import SongText
from tui.session.session import in_a_line
from tui.widgets.cells import Rows, text_row, text_rows
from tui.widgets.drawn import Drawn
from tui.widgets.lines import Ends, KeyLine, ends_rows, key_line_rows

KEYS = "Ctrl-S save  Ctrl-Z undo  Ctrl-Y redo  Tab complete  F8 next fault  Esc back"

OFFERED = 6
"""Words that are offered at a time (own choice: they fit a row)."""

MOST_FAULT = 3
"""Rows that a fault may take below the text (own choice: what is wrong and how to mend it, at 60 columns)."""


def fault_rows(said: str, width: int, height: int) -> Rows:
    """Return what is wrong with the text and how to mend it, "" for nothing, in as many rows as it takes."""
    rows = text_rows(said, width, "warn") if said else [text_row(" reads without a fault", width, "dim")]
    return rows[:height]


class EditScreen(Screen[None]):
    """Shows one file of the set; `file` is as the set names it, `before` the text that stands there."""

    DEFAULT_CSS = """
    EditScreen { layout: vertical; }
    EditScreen Drawn { height: 1; }
    EditScreen SongText { height: 1fr; border: none; padding: 0; }
    EditScreen SongText:focus { border: none; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+s", "save", priority=True),
        Binding("f8", "fault", priority=True),
        Binding("escape", "close", priority=True),
    ]
    writes_text = True

    def __init__(self, context: Context, file: str, before: str, line: int = 1) -> None:
        super().__init__(name="edit")
        self.context, self.file, self.before = context, file, before
        self.faults: tuple[tuple[int, int, str], ...] = ()
        self._line = line
        self._leaving = False
        self._said = ""
        self._area = SongText(before, context.display.ascii_only)
        # Lines that end in several ways are all one to the area; that alone is no change.
        self._opened = self._area.text
        self._bar, self._words = Drawn(ends_rows, Ends(), id="bar"), Drawn(fault_rows, "", id="words")
        self._keys = Drawn(key_line_rows, KeyLine(KEYS), id="keys")

    def compose(self) -> ComposeResult:
        yield from (self._bar, self._area, self._words, self._keys)

    def on_mount(self) -> None:
        self._area.focus()
        self._check()
        if self.faults:
            # The area has no width yet: it would scroll to the side, away from the words before the fault.
            self.call_after_refresh(self.action_fault)
        elif self._line > 1:
            self._area.move_cursor((self._line - 1, 0), center=True)

    def on_text_area_selection_changed(self) -> None:
        self.show_now()

    def on_text_area_changed(self) -> None:
        self._leaving, self._said = False, ""
        self._check()

    def on_key(self, event: events.Key) -> None:
        if event.key != "escape":
            self._leaving = False

    def show_now(self) -> None:
        """Show what has changed."""
        changed = "  changed" if self._area.text != self._opened else ""
        look = self.context.display.look
        count = f"{len(self.faults)} fault{'s' * (len(self.faults) != 1)}" if self.faults else "no faults"
        self._bar.show(ends_rows, Ends(f"EDIT  {self.file}{changed}", count), look)
        line, column, words = self.faults[0] if self.faults else (0, 0, "")
        fault = f"line {line}, column {column}: {words}" if words else ""
        said = f"! {self._said or fault}" if self._said or fault else ""
        self._words.styles.height = len(fault_rows(said, self.app.size.width, MOST_FAULT))
        self._words.show(fault_rows, said, look)
        offered = self._area.offered[:OFFERED]
        keys = f"Tab = {offered[0]}  {'  '.join(offered[1:])}" if offered else KEYS
        self._keys.show(key_line_rows, KeyLine(keys), look)

    def _check(self) -> None:
        """Read the text as it is now."""
        try:
            read_song(self._area.text, self.file)
        except ChartError as error:
            self.faults = tuple((fault.line, fault.column, f"{fault.found}, {fault.hint}") for fault in error.faults)
        else:
            self.faults = ()
        self._area.mark(self.faults)
        self.show_now()

    def action_fault(self) -> None:
        """Put the cursor on the next fault."""
        if not self.faults:
            return
        here = (self._area.cursor_location[0] + 1, self._area.cursor_location[1] + 1)
        after = [fault for fault in self.faults if (fault[0], fault[1]) > here] or list(self.faults)
        self._area.move_cursor((after[0][0] - 1, after[0][1] - 1), center=True)

    def action_save(self) -> None:
        if self.faults:
            self._said = "not saved: mend the fault first (F8 goes there)"
            self.action_fault()
            self.show_now()
        elif self._area.text == self._opened:
            self._close()
        else:
            self.run_worker(self._save(self._area.text), exclusive=True, group="edit")

    async def _save(self, text: str) -> None:
        try:
            title = await self.context.files().songs.rewrite_text(self.file, self.before, text)
        except EngineError as fault:
            self._said = in_a_line(fault)
            self.show_now()
        else:
            self._close()
            self.context.session.say(f"{title} is written; u takes it back")

    def action_close(self) -> None:
        """Go back; what is not saved is asked about first."""
        if self._area.text == self._opened or self._leaving:
            self._close()
        else:
            self._leaving, self._said = True, "not saved: Esc again leaves without it, Ctrl-S saves"
            self.show_now()

    def _close(self) -> None:
        self.app.pop_screen()
        self.context.show_top()
