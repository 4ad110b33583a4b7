"""A widget that shows rows of cells: what it draws is a pure function of its state and its size."""

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.cells import Row, Rows, in_ascii_rows, pad, runs
from tui.widgets.palette import Palette, palette

Draw = Callable[[Any, int, int], Rows]
"""Makes a picture of a state, in so many columns and rows."""

KEPT = 128
"""Pictures that are remembered, those that are likely to come among them (own choice: a stand has nine parts)."""


@dataclass(frozen=True, slots=True)
class Look:
    """How cells become ink: the theme, and whether the terminal knows ASCII alone."""

    theme: str = "dark"
    ascii_only: bool = False


class Drawn(Widget, can_focus=False):
    """Shows `draw(state, width, height)`; another `state` or `look` repaints it, an equal one does not."""

    DEFAULT_CSS = "Drawn { width: 1fr; height: auto; }"

    class Clicked(Message):
        """The picture was clicked at a column and a row of its own, both from 0."""

        def __init__(self, part: "Drawn", x: int, y: int) -> None:
            super().__init__()
            self.part, self.x, self.y = part, x, y

    state: reactive[Hashable] = reactive[Hashable](None, init=False)
    look: reactive[Look] = reactive(Look(), init=False)

    def __init__(self, draw: Draw, state: Hashable = None, look: Look | None = None, id: str | None = None) -> None:
        super().__init__(id=id)
        self.draw = draw
        self.set_reactive(Drawn.state, state)
        self.set_reactive(Drawn.look, look or Look())

    def show(self, draw: Draw, state: Hashable, look: Look) -> None:
        """Show a state, drawn in another way if need be."""
        if draw is not self.draw:
            self.draw = draw
            self.refresh()
        self.state, self.look = state, look

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(self.Clicked(self, event.x, event.y))

    def text(self, y: int) -> str:
        """Return a row as it is read, a character a column."""
        return self.render_line(y).text

    def warm(self, draw: Draw, state: Hashable) -> None:
        """Make the picture of a state that is likely to come."""
        if self.size.width and self.size.height:
            strips(draw, state, self.size.width, self.size.height, self.look)

    def render_line(self, y: int) -> Strip:
        return self.render_lines(Region(0, y, self.size.width, 1))[0]

    def render_lines(self, crop: Region) -> list[Strip]:
        """Return the rows of a region. A picture has no border, padding or blend, so what Textual does for those is
        left out: it took most of the time of a step."""
        drawn = strips(self.draw, self.state, self.size.width, self.size.height, self.look)
        rows = [drawn[y] if y < len(drawn) else Strip.blank(self.size.width) for y in range(crop.y, crop.bottom)]
        whole = crop.x == 0 and crop.width == self.size.width
        return rows if whole else [row.crop(crop.x, crop.right) for row in rows]


@lru_cache(maxsize=KEPT)
def strips(draw: Draw, state: Hashable, width: int, height: int, look: Look) -> tuple[Strip, ...]:
    """Return a picture as Textual's strips."""
    rows = pad(draw(state, width, height), width, height)
    if look.ascii_only:
        rows = in_ascii_rows(rows)
    inks = palette(look.theme)
    return tuple(_merged(to_strip(row, inks)) for row in rows)


def to_strip(row: Row, inks: Palette) -> Strip:
    """Return a row as a strip, neighbours of one role merged into one segment."""
    return Strip([Segment(text, inks.style(role)) for text, role in runs(row)], len(row))


def _merged(strip: Strip) -> Strip:
    """Join spaces to their neighbour on the same ground: a space shows no ink, and fewer inks are fewer bytes."""
    joined: list[Segment] = []
    for segment in strip:
        before = joined[-1] if joined else None
        if before and _same_ground(before.style, segment.style):
            if not segment.text.strip(" "):
                joined[-1] = Segment(before.text + segment.text, before.style)
                continue
            if not before.text.strip(" "):
                joined[-1] = Segment(before.text + segment.text, segment.style)
                continue
        joined.append(segment)
    return Strip(joined, strip.cell_length)


def _same_ground(one: Style | None, other: Style | None) -> bool:
    if one is None or other is None:
        return one is other
    drawn = one.underline or other.underline or one.reverse or other.reverse
    return not drawn and one.bgcolor == other.bgcolor
