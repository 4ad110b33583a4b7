"""A widget that shows a picture of cells: it draws only rows that changed, and none twice."""

from collections.abc import Callable, Sequence
from os.path import commonprefix

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

from tui.screens.bands import Band
from tui.widgets.palette import Palette, palette
from tui.widgets.strips import to_strip

Draw = Callable[[int, int], Sequence[Band]]

KEPT = 300
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
        """Draw anew and send the parts of rows that differ from what stands there."""
        if self._drawn_for is None or self._drawn_for != self.size:
            self.refresh()
            return
        before = self._strips
        self._strips = self._drawn()
        width = self.size.width
        changed = [
            Region(first, y, last - first, 1)
            for y, strip in enumerate(self._strips)
            for first, last in [_difference(before[y], strip) if y < len(before) else (0, width)]
            if last > first
        ]
        if changed:
            self.refresh(*changed)

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

    def render_lines(self, crop: Region) -> list[Strip]:
        """Return the rows of a region. A picture has no border, padding or blend, so what Textual does for those is
        left out: it took most of the time of a step."""
        rows = [self.render_line(y) for y in range(crop.y, crop.bottom)]
        if crop.x == 0 and crop.width == self.size.width:
            return rows
        return [row.crop(crop.x, crop.right) for row in rows]

    def _drawn(self) -> list[Strip]:
        return [strip for band in self._draw(self.size.width, self.size.height) for strip in self._strips_of(band)]

    def _strips_of(self, band: Band) -> list[Strip]:
        # The band itself is kept too, so that its identity cannot be taken by another one.
        key = (id(band), self._palette.theme)
        if key not in self._kept:
            if len(self._kept) >= KEPT:
                self._kept.clear()
            self._kept[key] = (band, [_merged(to_strip(list(row), self._palette)) for row in band])
        return self._kept[key][1]


def _merged(strip: Strip) -> Strip:
    """Join spaces to their neighbour on the same ground: a space shows no ink, and fewer inks are fewer bytes."""
    runs: list[Segment] = []
    for segment in strip:
        before = runs[-1] if runs else None
        if before and _same_ground(before.style, segment.style):
            if not segment.text.strip(" "):
                runs[-1] = Segment(before.text + segment.text, before.style)
                continue
            if not before.text.strip(" "):
                runs[-1] = Segment(before.text + segment.text, segment.style)
                continue
        runs.append(segment)
    return Strip(runs, strip.cell_length)


def _same_ground(one: Style | None, other: Style | None) -> bool:
    if one is None or other is None:
        return one is other
    drawn = one.underline or other.underline or one.reverse or other.reverse
    return not drawn and one.bgcolor == other.bgcolor


def _difference(old: Strip, new: Strip) -> tuple[int, int]:
    """Return the columns (first, last and one) in which two rows differ; equal ones give the same column twice."""
    if old is new or old == new:
        return 0, 0
    before, after = list(old), list(new)
    first = _alike(before, after)
    last = new.cell_length - _alike(before[::-1], after[::-1], backwards=True)
    return first, max(first + 1, last)


def _alike(before: list[Segment], after: list[Segment], backwards: bool = False) -> int:
    """Return how many columns two rows have in common from their beginning (or end)."""
    columns = 0
    for one, other in zip(before, after, strict=False):
        if one != other:
            if one.style == other.style and len(one.text) == one.cell_length and len(other.text) == other.cell_length:
                texts = [one.text[::-1], other.text[::-1]] if backwards else [one.text, other.text]
                columns += len(commonprefix(texts))  # noqa: RUF071 (texts, not paths)
            break
        columns += one.cell_length
    return columns
