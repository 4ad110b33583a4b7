"""A voicing as a small drawn keyboard with finger numbers: squares the left hand, circles the right."""

from dataclasses import dataclass

from engine.formats.sheets.paper import SMALLEST, Box, Ink, Paper
from engine.hand.keyboard import black
from engine.planning.model import PlannedNote, PlannedStep

WHITE_KEY = 4.2
"""Widest a white key is drawn, in millimetres."""

HEIGHT = 11.5
"""Length of a white key as drawn, in millimetres; a black key has 0.62 of it."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """The white keys that are drawn, from `low` to `high`, MIDI numbers of two white keys."""

    low: int
    high: int

    @property
    def whites(self) -> int:
        return sum(1 for key in range(self.low, self.high + 1) if not black(key))

    def middle(self, key: int) -> float:
        """Return where the middle of a key lies, in white keys from the left."""
        before = sum(1 for lower in range(self.low, key) if not black(lower))
        return float(before) if black(key) else before + 0.5


def stretch(*steps: PlannedStep) -> Stretch:
    """Return the keys that show all the steps' notes, with a white key to spare on each side."""
    keys = [key for step in steps for key in step.keys] or [60, 72]
    low, high = min(keys) - 1, max(keys) + 1
    return Stretch(low - black(low), high + black(high))


def draw_keyboard(paper: Paper, step: PlannedStep, keys: Stretch, x: float, y: float, width: float) -> float:
    """Draw a step on the keys with its upper left corner at (x, y), no wider than `width`, and return its width."""
    white = min(WHITE_KEY, width / keys.whites)
    for key in range(keys.low, keys.high + 1):
        if not black(key):
            paper.box(x + (keys.middle(key) - 0.5) * white, y, white, HEIGHT, Box(fill=255, grey=120, thick=0.2))
    for key in range(keys.low, keys.high + 1):
        if black(key):
            left = x + (keys.middle(key) - 0.3) * white
            paper.box(left, y, white * 0.6, HEIGHT * 0.62, Box(fill=60, grey=60, thick=0.2))
    if keys.low <= 60 <= keys.high:
        paper.text(x + keys.middle(60) * white, y + HEIGHT + 3.2, "C4", Ink(SMALLEST, grey=70), align="centre")
    for note in step.left:
        _finger(paper, note, x + keys.middle(note.key) * white, y, left=True)
    for note in step.right:
        _finger(paper, note, x + keys.middle(note.key) * white, y, left=False)
    return keys.whites * white


def _finger(paper: Paper, note: PlannedNote, x: float, y: float, left: bool) -> None:
    ink = Ink(SMALLEST, bold=True)
    middle = y + HEIGHT * (0.42 if black(note.key) else 0.81)
    held = note.move == "hold"
    style = Box(fill=205 if held else 255, grey=0, thick=0.35)
    radius = 2.0
    if left:
        paper.box(x - radius, middle - radius, 2 * radius, 2 * radius, style)
    else:
        paper.dot(x, middle, radius, style)
    paper.text(x, middle + ink.cap / 2, str(note.finger or ""), ink, align="centre")
