"""A spot while it goes round, large enough to play from: its chords, the fingers' way, the keys, and how it went."""

from dataclasses import dataclass, replace

from engine.planning.model import PlannedStep
from tui.widgets.beat_light import BEAT, beat_rows
from tui.widgets.cells import Rows, beside, blank, pad, text_row
from tui.widgets.keyboard import keyboard_rows
from tui.widgets.lettering import chord_rows, words_rows
from tui.widgets.moves import moves_rows, rows_for, sign_pixels

HANDS = ("both", "left", "right")
"""Which hands practise; the other one rests."""


@dataclass(frozen=True, slots=True)
class Running:
    """`steps` are the spot's chords, `present` the one that sounds now (from 0); `hands` one of HANDS; `span` the keys
    that are drawn (MIDI numbers); `words` what is heard or to be said; `clean` and `stopped` tries of this visit."""

    steps: tuple[PlannedStep, ...]
    present: int
    hands: str
    span: tuple[int, int]
    clean: int
    stopped: int
    words: str = ""
    style: str = "words"
    coarse: bool = False
    lamp: str = ""
    """The beat while the round is in time: a mark and its number."""


def of_hands(step: PlannedStep, hands: str) -> PlannedStep:
    """Return a chord with the notes of the hands that practise."""
    if hands == "left":
        return replace(step, right=(), lifted_right=(), tune=(), tune_on_top=False)
    return replace(step, left=(), lifted_left=(), strokes=()) if hands == "right" else step


def running_rows(view: Running, width: int, height: int) -> Rows:
    """Return exactly `height` rows of `width` cells: chords, moves, keyboard, and the count of tries."""
    count = 3 if height >= 16 else 1
    moves = rows_for(width, sign_pixels(height + 2)) if height >= 20 and width >= 80 else 2
    keyboard = max(4, min(14, (height - count - moves) // 2))
    chords = max(1, height - count - moves - keyboard - 1)
    now, coming = view.steps[view.present], view.steps[(view.present + 1) % len(view.steps)]
    now, coming = of_hands(now, view.hands), of_hands(coming, view.hands)
    rows = _chords(view, now, coming, width, chords)
    rows += pad(moves_rows(coming, width, moves, view.coarse), width, moves)
    rows += keyboard_rows(now, coming, *view.span, width, keyboard, coarse=view.coarse)
    rows += [text_row(f" {view.words}", width, "cue")]
    return pad(rows + _count(view, width, count), width, height)


def _chords(view: Running, now: PlannedStep, coming: PlannedStep, width: int, height: int) -> Rows:
    half = width // 2
    beat = BEAT if view.lamp and height >= 4 and half >= 40 else 0
    left = pad(chord_rows(now.step.symbol, half - beat - 2, height, "chord", view.style), half - beat, height)
    if beat:
        left = beside(left, beat_rows(view.lamp, beat, height))
    return beside(
        left, pad(chord_rows(coming.step.symbol, width - half, height, "next", view.style), width - half, height)
    )


def _count(view: Running, width: int, height: int) -> Rows:
    """Return how many tries were clean and how many stopped, in letters where there is room."""
    words = f"clean {view.clean}  stopped {view.stopped}"
    if height < 3:
        return [text_row(f" {words}", width, "text")]
    # Each has half of the row, so that neither number is cut.
    parts = [words_rows(part, width // 2 - 1, height, "text") for part in words.split("  ")]
    return beside(blank(1, height), parts[0], blank(1, height), parts[1])
