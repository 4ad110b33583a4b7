"""A widget that shows a picture of cells: it draws only rows that changed, and none twice."""

from collections.abc import Callable, Sequence

from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

from tui.screens.stand_picture import Band
from tui.widgets.palette import Palette, palette
from tui.widgets.strips import to_strip

Draw = Callable[[int, int], Sequence[Band]]

KEPT = 600
"""Bands that are kept as strips."""


class Picture(Widget, can_focus=False):
    """Shows what `draw(width, height)` returns; `redraw` after what it draws has changed."""

    DEFAULT_CSS = """
    Picture { width: 100%; height: 100%; }
    """

    def __init__(self, draw: Draw, theme: str = "dark", id: str | None = None) -> None:
        super().__init__(id=id)
        self._draw = draw
        self._palette: Palette = palette(theme)
        self._strips: list[Strip] = []
        self._drawn_for: Size | None = None
        self._kept: dict[tuple[int, str], tuple[Band, list[Strip]]] = {}

    def use(self, theme: str) -> None:
        """Change to another theme."""
        self._palette = palette(theme)
        self._drawn_for = None
        self.refresh()

    def redraw(self) -> None:
        """Draw anew and send the rows that differ from what stands there."""
        if self._drawn_for is None or self._drawn_for != self.size:
            self.refresh()
            return
        before = self._strips
        self._strips = self._drawn()
        width = self.size.width
        changed = [y for y, strip in enumerate(self._strips) if y >= len(before) or _differ(before[y], strip)]
        if changed:
            self.refresh(*(Region(0, first, width, last - first + 1) for first, last in _runs(changed)))

    def warm(self, draw: Draw) -> None:
        """Make the strips of a picture that is likely to come."""
        if self.size.width and self.size.height:
            for band in draw(self.size.width, self.size.height):
                self._strips_of(band)

    def render_line(self, y: int) -> Strip:
        if self._drawn_for != self.size:
            self._drawn_for = self.size
            self._strips = self._drawn()
        return self._strips[y] if y < len(self._strips) else Strip.blank(self.size.width)

    def _drawn(self) -> list[Strip]:
        return [strip for band in self._draw(self.size.width, self.size.height) for strip in self._strips_of(band)]

    def _strips_of(self, band: Band) -> list[Strip]:
        # The band itself is kept too, so that its identity cannot be taken by another one.
        key = (id(band), self._palette.theme)
        if key not in self._kept:
            if len(self._kept) >= KEPT:
                self._kept.clear()
            self._kept[key] = (band, [to_strip(list(row), self._palette) for row in band])
        return self._kept[key][1]


def _differ(old: Strip, new: Strip) -> bool:
    return old is not new and old != new


def _runs(rows: list[int]) -> list[tuple[int, int]]:
    """Return neighbouring rows as (first, last)."""
    runs = [(rows[0], rows[0])]
    for row in rows[1:]:
        runs[-1:] = [(runs[-1][0], row)] if row == runs[-1][1] + 1 else [runs[-1], (row, row)]
    return runs
