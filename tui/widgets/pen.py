"""A sheet of pixels on which one letter is drawn with bars, rounded frames and slopes, every edge on a whole pixel."""


def stroke(high: int) -> int:
    """Return the thickness in pixels of letters so many pixels high."""
    return max(1, round(high * 0.17))


class Pen:
    """A small sheet of pixels, `high` rows, on which one letter is drawn; `t` is the stroke in pixels."""

    def __init__(self, high: int, share: float) -> None:
        self.high = high
        self.t = stroke(high)
        self.wide = columns(high, share, self.t)
        self.dots = [[0] * self.wide for _ in range(high)]

    def y(self, share: float) -> int:
        """Return the row at a share of the height."""
        return round(self.high * share)

    def bar(self, x0: float, y0: float, x1: float, y1: float, ink: int = 1) -> None:
        """Fill from column `x0` up to `x1`, row `y0` up to `y1`; ink 0 rubs out."""
        for y in range(max(0, round(y0)), min(self.high, round(y1))):
            self._fill(y, round(x0), round(x1), ink)

    def frame(self, x0: int, y0: int, x1: int, y1: int, corners: str = "abcd") -> None:
        """Draw a frame one stroke thick; round corners: a left upper, b right upper, c right lower, d left lower."""
        t, outer = self.t, max(1.0, min(x1 - x0, y1 - y0) * (0.42 if self.t > 1 else 0.47))
        for y in range(max(0, y0), min(self.high, y1)):
            left, right = _span(y, (x0, y0, x1, y1), outer, corners)
            hole, end = _span(y, (x0 + t, y0 + t, x1 - t, y1 - t), max(0.0, outer - t * 0.8), corners)
            self._fill(y, left, min(hole, right) if hole < end else right, 1)
            self._fill(y, max(end, left) if hole < end else right, right, 1)

    def _fill(self, y: int, x0: int, x1: int, ink: int) -> None:
        x0, x1 = max(0, x0), min(self.wide, x1)
        if x0 < x1:
            self.dots[y][x0:x1] = [ink] * (x1 - x0)

    def slope(self, x0: float, y0: int, x1: float, y1: int, thick: float) -> None:
        """Draw a slanted stroke `thick` columns broad, its left edge from (x0, y0) down to (x1, y1)."""
        for y in range(y0, y1):
            at = x0 + (x1 - x0) * (y + 0.5 - y0) / (y1 - y0)
            self.bar(at, y, at + thick, y + 1)

    def turned(self) -> None:
        """Turn the letter upside down about its middle."""
        self.dots = [row[::-1] for row in self.dots[::-1]]


def columns(high: int, share: float, t: int) -> int:
    """Return the width of a letter: a share of its height, but never so narrow that strokes touch; 0 is one stroke."""
    narrowest = t if share == 0 else t + 1 if share < 0.45 else t * 2 + 1
    return max(narrowest, round(high * share))


Box = tuple[int, int, int, int]


def _span(y: int, box: Box, radius: float, corners: str) -> tuple[int, int]:
    """Return the columns of a rounded box in row `y`, from one up to another: corners cut nothing but its ends."""
    left, right = box[0], box[2]
    while left < right and not _inside(left, y, box, radius, corners):
        left += 1
    while left < right and not _inside(right - 1, y, box, radius, corners):
        right -= 1
    return left, right


def _inside(x: int, y: int, box: Box, radius: float, corners: str) -> bool:
    x0, y0, x1, y1 = box
    if not (x0 <= x < x1 and y0 <= y < y1):
        return False
    across, down = x + 0.5, y + 0.5
    left, upper = across < x0 + radius, down < y0 + radius
    right, lower = across > x1 - radius, down > y1 - radius
    name = {(1, 1, 0, 0): "a", (0, 1, 1, 0): "b", (0, 0, 1, 1): "c", (1, 0, 0, 1): "d"}.get((left, upper, right, lower))
    if name is None or name not in corners:
        return True
    centre_x = x0 + radius if left else x1 - radius
    centre_y = y0 + radius if upper else y1 - radius
    return (across - centre_x) ** 2 + (down - centre_y) ** 2 <= radius**2 + 0.1
