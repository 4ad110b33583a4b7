"""What each finger does on the way to the next chord: ten slots as the hands lie, left 5 to 1, right 1 to 5.

`=` holds its key, ▲n goes up and ▼n down by n semitones, `+` is pressed, `-` is lifted, `~` takes a key from another finger.
A slot in use has its number filled in the hand's colour. ▲ stands high and ▼ low, so that place says it too.
"""

from dataclasses import dataclass
from functools import lru_cache

from engine.plan.model import PlannedStep
from tui.widgets import glyphs
from tui.widgets.cells import Cell, Rows, beside, blank, overlay, pad, put, text_row
from tui.widgets.blocks import quarter_blocks

LEGEND = "= hold  ▲▼ up, down by semitones  + press  - lift  ~ other finger, same key"


@dataclass(frozen=True, slots=True)
class Slot:
    """One finger's move: `sign` such as "=", "▲3", "+", "-" or "" (the finger is free); `name` the note it lands on."""

    hand: str
    finger: int
    sign: str
    name: str


def moves_rows(coming: PlannedStep | None, width: int, height: int) -> Rows:
    """Return the moves into `coming` in exactly `width` x `height` cells.

    Four rows draw them in letters five pixels high with the note below, three without notes; two rows are one plain line
    a hand, one row is both hands in a line.
    """
    if width <= 0 or height <= 0:
        return blank(width, height)
    if coming is None:
        return blank(width, height)
    return [list(row) for row in _drawn(slots(coming), width, height)]


def slots(coming: PlannedStep) -> tuple[Slot, ...]:
    """Return the ten slots from left 5 to right 5."""
    hands = (("left", coming.left, coming.lifted_left), ("right", coming.right, coming.lifted_right))
    found: dict[tuple[str, int], Slot] = {}
    for hand, notes, lifted in hands:
        for finger, _key in lifted:
            found[hand, finger] = Slot(hand, finger, "-", "")
        for note in notes:
            sign = {"hold": "=", "press": "+", "refinger": "~"}.get(note.move, "")
            if note.move == "slide" and note.left_from is not None:
                by = note.key - note.left_from
                sign = f"{'▲' if by > 0 else '▼'}{abs(by)}"
            found[hand, note.finger] = Slot(hand, note.finger, sign or "+", pretty(note.name))
    order = [("left", finger) for finger in (5, 4, 3, 2, 1)] + [("right", finger) for finger in (1, 2, 3, 4, 5)]
    return tuple(found.get(place, Slot(*place, "", "")) for place in order)


def pretty(name: str) -> str:
    """Return a note name with real signs: Eb4 as E♭4."""
    return name[:1] + name[1:].replace("b", "♭").replace("#", "♯")


@lru_cache(maxsize=256)
def _drawn(ten: tuple[Slot, ...], width: int, height: int) -> tuple[tuple[Cell, ...], ...]:
    if height >= 3 and width >= 60:
        rows = _lettered(ten, width, height)
    elif height >= 2:
        rows = [hand_line(ten[:5], width), hand_line(ten[5:], width)]
    else:
        rows = [(hand_line(ten[:5], (width + 1) // 2) + hand_line(ten[5:], width // 2))]
    return tuple(tuple(row) for row in pad(rows, width, height))


def hand_line(five: tuple[Slot, ...], width: int) -> list[Cell]:
    """Return one hand's moves as a plain line: `LH 5 ▼3 E♭2  2 = B♭2`."""
    hand = five[0].hand
    used = [f"{slot.finger}{slot.sign}{slot.name}" for slot in five if slot.sign]
    return text_row(f"{'LH' if hand == 'left' else 'RH'} {'  '.join(used)}", width, f"{hand} text")


def _lettered(ten: tuple[Slot, ...], width: int, height: int) -> Rows:
    wide = width // 10
    size = 10 if wide >= 15 and height >= 6 else 5
    parts = [_slot(slot, wide, size, height) for slot in ten]
    picture = blank(width, height)
    overlay(picture, beside(*parts), (width - 10 * wide) // 2, 0)
    return picture


def _slot(slot: Slot, wide: int, size: int, height: int) -> Rows:
    rows = blank(wide, height)
    tall = (size + 1) // 2
    head = quarter_blocks(glyphs.word(str(slot.finger), size), slot.hand if slot.sign not in ("", "-") else "dim")
    overlay(rows, head, 0, 0)
    move = quarter_blocks(glyphs.word(slot.sign, size), "dim" if slot.sign in ("=", "-") else f"{slot.hand} text")
    overlay(rows, [row[: max(0, wide - len(head[0]) - 1)] for row in move], len(head[0]) + 1, 0)
    if height > tall:
        put(rows, 0, tall, slot.name, f"{slot.hand} text")
    return rows
