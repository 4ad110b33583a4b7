"""A screen read between songs: a heading, a body of rows, a line of keys. What all but the stand are made of."""

from collections.abc import Hashable
from typing import Any

from rich.cells import cell_len
from textual.app import ComposeResult

from tui.screens.asking import Asking
from tui.screens.context import Context
from tui.widgets.cells import Rows
from tui.widgets.drawn import Draw, Drawn
from tui.widgets.lines import Ends, KeyLine, ends_rows, key_line_rows


class Page(Asking):
    """Shows `heading` and `body`; a page knows its own keys by `kind`."""

    DEFAULT_CSS = "Page { layout: vertical; overflow: hidden; } Page Drawn { height: 1; } Page #body { height: 1fr; }"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._parts = (Drawn(ends_rows, id="bar"), Drawn(self._rows, id="body"), Drawn(key_line_rows, id="keys"))
        self._shown = 0

    def compose(self) -> ComposeResult:
        yield from self._parts

    def on_mount(self) -> None:
        self.show_now()

    def on_resize(self) -> None:
        self.show_now()

    def heading(self) -> tuple[str, str]:
        """Return (left, right) of the first row."""
        return self.kind, ""

    def body(self, width: int, height: int) -> Rows:
        """Return the rows between heading and keys."""
        raise NotImplementedError

    def show_now(self) -> None:
        bar, body, keys = self._parts
        body.show(*self.picture(), self.context.display.look)
        bar.show(ends_rows, self._ends(), self.context.display.look)
        keys.show(key_line_rows, self._key_line(self.app.size.width), self.context.display.look)

    def picture(self) -> tuple[Draw, Hashable]:
        """Return how the body is drawn, and of which state; each time another one, where a page has none of its own."""
        self._shown += 1
        return self._rows, self._shown

    def _rows(self, _shown: Any, width: int, height: int) -> Rows:
        return self.body(width, height)

    def _key_line(self, width: int) -> KeyLine:
        trouble = self.context.told()[0]
        if trouble:
            return KeyLine(self.context.keymap().line(self.kind, width - cell_len(trouble) - 6), complaint=trouble)
        return KeyLine(self.context.key_line(self.kind, width - 2))

    def _ends(self) -> Ends:
        left, right = self.heading()
        role = "bar"
        if self.asked is not None:
            (left, right), role = self.asked, "here"
        elif self.session.message:
            left, right, role = self.session.message, "", "warn" if self.session.alarm else "here"
        return Ends(left, right, role)

    def action_close(self) -> None:
        self.session.message = ""
        self.app.pop_screen()
        self.context.show_top()
