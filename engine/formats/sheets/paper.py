"""Paper, type and ink: pages in millimetres from the upper left corner, text on its baseline, sizes in points."""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

PAPERS: dict[str, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Name -> width and height in millimetres. Source: ISO 216:2007 and ANSI/ASME Y14.1-1995."""

POINT = 25.4 / 72
"""Millimetres of a point."""

SMALLEST = 10.0
"""Points below which nothing is set that has to be read on a music stand (own choice)."""

MARGIN = 14.0
"""Millimetres that stay empty round a page, for punch holes and thumbs (own choice)."""

MISSING = "▫"
"""Stands for a sign that the typeface does not have, since a gap would read as another word."""

CAP = 0.73
"""Height of a capital over the size of the type. Source: the font's own table."""

_FONTS = Path(__file__).parents[1] / "fonts"
_NO_DATE = datetime(2000, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Ink:
    """How a text is set: points, weight, and grey from 0 (black) to 255."""

    size: float
    bold: bool = False
    grey: int = 0

    @property
    def cap(self) -> float:
        """Millimetres from the baseline to the top of a capital."""
        return self.size * CAP * POINT


class Paper:
    """A document that is being drawn, page after page; `data` at the end is the finished file."""

    def __init__(self, paper: str = "a4", title: str = "") -> None:
        """Open a document.

        Raises:
            ValueError: `paper` is not among `PAPERS`.
        """
        if paper not in PAPERS:
            raise ValueError(f"no such paper: {paper}")
        from fpdf import FPDF
        from fpdf.fonts import TTFFont
        from fpdf.prefs import ViewerPreferences

        self.width, self.height = PAPERS[paper]
        self._pdf = FPDF(unit="mm", format=(self.width, self.height))
        self._pdf.set_auto_page_break(False)
        self._pdf.set_margin(0)
        self._pdf.c_margin = 0
        self._pdf.add_font("stand", "", _FONTS / "DejaVuSansCondensed.ttf")
        self._pdf.add_font("stand", "B", _FONTS / "DejaVuSansCondensed-Bold.ttf")
        self._pdf.set_title(title)
        self._pdf.viewer_preferences = ViewerPreferences(display_doc_title=True)
        self._pdf.set_lang("en")
        self._pdf.set_creator("stillhand")
        # The same music is the same file, whenever it is printed.
        self._pdf.set_creation_date(_NO_DATE)
        letters = [set(font.cmap) for font in self._pdf.fonts.values() if isinstance(font, TTFFont)]
        self._known = set.intersection(*letters)
        self._widths: dict[tuple[str, Ink], float] = {}

    @property
    def left(self) -> float:
        return MARGIN

    @property
    def right(self) -> float:
        return self.width - MARGIN

    @property
    def bottom(self) -> float:
        return self.height - MARGIN

    @property
    def inner(self) -> float:
        """Millimetres between the margins."""
        return self.width - 2 * MARGIN

    @property
    def pages(self) -> int:
        return self._pdf.page

    def turn(self) -> None:
        """Begin a new page."""
        self._pdf.add_page()

    def bookmark(self, name: str, y: float, inside: bool = False) -> None:
        """Let the reader's outline lead to the height `y` of this page; `inside` the bookmark before it."""
        self._pdf.set_xy(0, y)
        self._pdf.start_section(self.shown(name) or MISSING, level=int(inside), strict=False)

    def data(self) -> bytes:
        return bytes(self._pdf.output())

    def lacking(self, text: str) -> str:
        """Return the signs of a text that the typeface has no letter for, each once, as they first come."""
        return "".join(sign for sign in dict.fromkeys(text) if ord(sign) not in self._known)

    def shown(self, text: str) -> str:
        """Return a text with a small square for each sign that the typeface has no letter for."""
        return "".join(sign if ord(sign) in self._known else MISSING for sign in text)

    def measure(self, text: str, ink: Ink) -> float:
        """Return the width of a text in millimetres."""
        text = self.shown(text)
        known = self._widths.get((text, ink))
        if known is None:
            self._pdf.set_font("stand", "B" if ink.bold else "", ink.size)
            known = self._widths[text, ink] = self._pdf.get_string_width(text)
        return known

    def text(self, x: float, y: float, text: str, ink: Ink, room: float = 0.0, align: str = "left") -> float:
        """Set one line of text and return its width; a text wider than `room` (0: any) is set narrower, and cut where
        even half its width does not fit. `align` says what `x` is of it: left, right or centre."""
        while room and len(text) > 1 and self.measure(text, ink) * 0.5 > room:
            text = text[:-2] + "…"
        return self.whole_text(x, y, text, ink, room, align)

    def whole_text(self, x: float, y: float, text: str, ink: Ink, room: float = 0.0, align: str = "left") -> float:
        """Set one line of text as `text` does, but however narrow it must be, nothing of it is cut."""
        text = self.shown(text)
        if not text:
            return 0.0
        width = self.measure(text, ink)
        narrow = min(1.0, room / width) if room and width else 1.0
        width *= narrow
        start = x - {"left": 0.0, "right": width, "centre": width / 2}[align]
        self._pdf.set_font("stand", "B" if ink.bold else "", ink.size)
        self._pdf.set_text_color(ink.grey)
        self._pdf.set_stretching(100 * narrow)
        self._pdf.text(start, y, text)
        self._pdf.set_stretching(100)
        return width

    def line(self, x1: float, y1: float, x2: float, y2: float, thick: float = 0.25, grey: int = 0) -> None:
        self._pdf.set_draw_color(grey)
        self._pdf.set_line_width(thick)
        self._pdf.line(x1, y1, x2, y2)

    def box(self, x: float, y: float, width: float, height: float, style: "Box") -> None:
        """Draw a rectangle from its upper left corner."""
        self._shape(style)
        mode = "DF" if style.fill is not None else "D"
        if style.round:
            self._pdf.rect(x, y, width, height, style=mode, round_corners=True, corner_radius=style.round)
        else:
            self._pdf.rect(x, y, width, height, style=mode)

    def dot(self, x: float, y: float, radius: float, style: "Box") -> None:
        """Draw a circle about its centre."""
        self._shape(style)
        self._pdf.circle(x, y, radius, style="DF" if style.fill is not None else "D")

    def _shape(self, style: "Box") -> None:
        self._pdf.set_draw_color(style.grey)
        self._pdf.set_line_width(style.thick)
        if style.fill is not None:
            self._pdf.set_fill_color(style.fill)


@dataclass(frozen=True, slots=True)
class Box:
    """How a shape is drawn: outline grey and thickness, filling grey (None: none), radius of its corners."""

    fill: int | None = None
    grey: int = 0
    thick: float = 0.25
    round: float = 0.0
