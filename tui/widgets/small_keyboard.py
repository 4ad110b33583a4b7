"""A grip in one row for lists: a column a key, the finger's number on the keys that sound."""

from functools import lru_cache

from engine.hand.keyboard import black
from engine.planning.model import PlannedStep
from tui.widgets.cells import Cell, Row, Rows, blank, pad


def small_keyboard_rows(step: PlannedStep | None, low: int, high: int, width: int) -> Rows:
    """Return one row of exactly `width` columns with the keys from `low` to `high`, MIDI numbers.

    Too wide a range is cut down to the keys that sound; what still does not fit is left out, the right hand last.
    """
    if width <= 0 or step is None:
        return blank(width, 1)
    left = tuple((note.key, note.finger) for note in step.left)
    right = tuple((note.key, note.finger) for note in step.right)
    return pad([list(_row(left, right, min(low, high), max(low, high), width))], width, 1)


@lru_cache(maxsize=256)
def _row(
    left: tuple[tuple[int, int], ...], right: tuple[tuple[int, int], ...], low: int, high: int, width: int
) -> tuple[Cell, ...]:
    hands: dict[int, Cell] = {key: (str(finger or "•"), "left digit") for key, finger in left}
    hands |= {key: (str(finger or "•"), "right digit") for key, finger in right}
    if hands:
        low, high = min(low, *hands), max(high, *hands)
    if high - low >= width and hands:
        low = min(hands)
        high = low + width - 1
    row: Row = [hands.get(key, (" ", "white") if not black(key) else ("░", "black")) for key in range(low, high + 1)]
    return tuple(row)
