"""A screen read between songs: a heading, a body of rows, a line of keys. What all but the stand are made of."""

from typing import TYPE_CHECKING

from rich.cells import cell_len
from textual.app import ComposeResult

from tui.screens.asking import Asking
from tui.screens.bands import Band, ascii_band, bar_row, trouble_row
from tui.screens.picture import Picture
from tui.widgets.cells import Row, Rows, pad, text_row

if TYPE_CHECKING:
    from tui.app import StandApp


class Page(Asking):
    """Shows `heading` and `body`; a page knows its own keys by `kind`."""

    def __init__(self, app: "StandApp") -> None:
        super().__init__(app.desk)
        self.picture = Picture(self.draw, app.picture_theme)

    def compose(self) -> ComposeResult:
        yield self.picture

    def heading(self) -> tuple[str, str]:
        """Return (left, right) of the first row."""
        return self.kind, ""

    def body(self, width: int, height: int) -> Rows:
        """Return the rows between heading and keys."""
        raise NotImplementedError

    def draw(self, width: int, height: int) -> list[Band]:
        body = pad(self.body(width, max(0, height - 2)), width, max(0, height - 2))
        rows: Rows = [self._first(width), *body]
        rows.append(self._last(width))
        band = tuple(tuple(row) for row in rows[:height])
        return [ascii_band(band) if self.app.ascii_only else band]

    def _last(self, width: int) -> Row:
        """Return the line of keys; a complaint leaves of it what it does not need."""
        trouble = self.app.complaints()[0]
        if not trouble:
            return text_row(f" {self.app.keys_shown(self.kind, width - 2)}", width, "dim")
        keys = self.app.key_line(self.kind, width - cell_len(trouble) - 6)
        return list(trouble_row(trouble, keys, width)[0])

    def _first(self, width: int) -> Row:
        left, right = self.heading()
        role = "bar"
        if self.asked is not None:
            (left, right), role = self.asked, "here"
        elif self.desk.message:
            left, right, role = self.desk.message, "", "warn" if self.desk.alarm else "here"
        return bar_row(left, right, role, width)

    def action_close(self) -> None:
        self.desk.message = ""
        self.app.pop_screen()
        self.app.show_top()
