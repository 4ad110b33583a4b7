"""What each finger does on the way to the next chord: ten slots as the hands lie, left 5 to 1, right 1 to 5.

`=` holds its key, ▲n goes up and ▼n down by n semitones, `+` is pressed, `-` is lifted, `~` takes a key from another
finger. A slot in use has its number filled in the hand's colour. ▲ stands high and ▼ low, so that place says it too.
"""

from dataclasses import dataclass
from functools import lru_cache

from engine.planning.model import PlannedStep
from tui.widgets import glyphs
from tui.widgets.blocks import half_blocks, quarter_blocks
from tui.widgets.cells import Cell, Rows, beside, blank, overlay, pad, put, text_row
from tui.widgets.lettering import pretty

LEGEND = "= hold  ▲▼ up, down in half steps  + press  - lift  ~ other finger, same key"


@dataclass(frozen=True, slots=True)
class Slot:
    """One finger's move: `sign` such as "=", "▲3", "+", "-" or "" (the finger is free); `name` the note it lands on."""

    hand: str
    finger: int
    sign: str
    name: str


SIZES = (16, 14, 12, 10, 8, 6, 5)
"""Heights in pixels that signs are tried at, two pixels a row."""


SCREEN, SIGN = 170.0, 15.0
"""Millimetres: the height of a laptop's screen, and the least height of a sign that is read at 1.5 m: three times the
5 mm that 20/40 vision needs there (common practice for signs on a stage)."""


def sign_pixels(height: int) -> int:
    """Return the pixels, two a row, of letters that are high enough in a window of so many rows."""
    return next((size for size in reversed(SIZES) if size * SCREEN >= 2 * height * SIGN), SIZES[0])


def moves_rows(coming: PlannedStep | None, width: int, height: int, coarse: bool = False) -> Rows:
    """Return the moves into `coming` in exactly `width` x `height` cells.

    From six rows on sign and note name stand below each other in letters as large as both have room; four rows have a
    small name, three none; where ten slots are too many for the width, six rows draw one hand above the other. Two rows
    are a plain line a hand, one row is both. `coarse` is for consoles whose font lacks quarter blocks: one hand above
    the other in half blocks, the names small.
    """
    if width <= 0 or height <= 0:
        return blank(width, height)
    if coming is None:
        return blank(width, height)
    return [list(row) for row in _drawn(slots(coming), width, height, coarse)]


def rows_for(width: int, size: int) -> int:
    """Return the rows that ten slots need for signs and names `size` pixels high, or as high as the width allows."""
    return _rows_of(next((one for one in SIZES if one <= size and _fits(one, width // 10)), SIZES[-1]))


def _rows_of(size: int) -> int:
    """Return the rows of a sign with the name below it; where letters fill their rows, one stays free between them."""
    return size + 1


def _fits(size: int, slot: int) -> bool:
    """Tell whether a finger with an arrow and a figure fits into a slot of so many columns, at two pixels a column."""
    return 2 * slot >= (14 if size == SIZES[-1] else _needs(size))


def _needs(size: int) -> int:
    return 2 * -(-_head(size) // 2) + glyphs.gap(size) + glyphs.word_breadth("▼4", size)


def _head(size: int) -> int:
    """Return the pixels across of a finger number on its ground."""
    return glyphs.word_breadth("4", size) + 2 * glyphs.gap(size)


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


@lru_cache(maxsize=256)
def _drawn(ten: tuple[Slot, ...], width: int, height: int, coarse: bool) -> tuple[tuple[Cell, ...], ...]:
    stacked = height >= 6 and width >= (60 if coarse else 40)
    if not coarse and height >= 3 and width >= 70:
        rows = _lettered(ten, width, height)
    elif stacked:
        rows = [row for hand in (ten[:5], ten[5:]) for row in _lettered(hand, width, height // 2, coarse)]
    else:
        rows = _lines(ten, width, height)
    return tuple(tuple(row) for row in pad(rows, width, height))


def _lines(ten: tuple[Slot, ...], width: int, height: int) -> Rows:
    if height >= 2:
        return [hand_line(ten[:5], width), hand_line(ten[5:], width)]
    return [hand_line(ten[:5], (width + 1) // 2) + hand_line(ten[5:], width // 2)]


def hand_line(five: tuple[Slot, ...], width: int) -> list[Cell]:
    """Return one hand's moves as a plain line: `LH 5▼3 E♭2  2= B♭2`."""
    hand = five[0].hand
    used = [f"{slot.finger}{slot.sign} {slot.name}".rstrip() for slot in five if slot.sign]
    return text_row(f"{'LH' if hand == 'left' else 'RH'} {'  '.join(used)}", width, f"{hand} text", ground="back")


def _lettered(fingers: tuple[Slot, ...], width: int, height: int, coarse: bool = False) -> Rows:
    wide = width // len(fingers)
    size = _size(wide, height, coarse)
    parts = [_slot(slot, wide, size, height) for slot in fingers]
    picture = blank(width, height)
    overlay(picture, beside(*parts), (width - len(fingers) * wide) // 2, 0)
    return picture


def _size(wide: int, height: int, coarse: bool) -> "_Size":
    """Return the largest letters that a slot has room for: with a name as large from six rows on, else with a small one
    below or beside it."""
    if coarse:
        return _Size(5, square=True, aside=True)
    rooms = [size for size in SIZES if _fits(size, wide) and (height < 6 or _rows_of(size) <= max(height, 6))]
    pixels = rooms[0] if height >= 6 and rooms else 5
    return _Size(pixels, square=wide >= (15 if pixels == 5 else _needs(pixels)))


@dataclass(frozen=True, slots=True)
class _Size:
    """Letters so many `pixels` high; pixels are `square` (half blocks) or half as wide (quarter blocks). `aside` puts a
    small name right of the sign."""

    pixels: int
    square: bool
    aside: bool = False

    @property
    def rows(self) -> int:
        return (self.pixels + 1) // 2

    def head(self, slot: int) -> int:
        """Return the columns of a finger number in a slot of so many columns."""
        wide = 4 if self.aside else _head(self.pixels)
        return min(wide if self.square else (wide + 1) // 2, slot)

    def word(self, text: str, slim: bool = False) -> glyphs.Bitmap:
        return glyphs.plain(text, slim=slim) if self.pixels == 5 else glyphs.word(text, self.pixels)


def _slot(slot: Slot, wide: int, size: _Size, height: int) -> Rows:
    rows = blank(wide, height)
    used = slot.sign not in ("", "-")
    head = _sign(str(slot.finger), size, slot.hand if used else "dim" if slot.sign else "faint", size.head(wide))
    overlay(rows, head, 0, 0)
    role = "dim" if slot.sign in ("=", "-") else f"{slot.hand} sign"
    overlay(rows, _sign(slot.sign, size, role, wide - len(head[0])), len(head[0]), 0)
    name, role = slot.name or ("lift" if slot.sign == "-" else ""), f"{slot.hand} text" if used else "dim"
    if size.aside:
        put(rows, max(0, wide - len(name) - 1), size.rows - 1, name, role)
    elif height >= 2 * size.rows and used:
        overlay(rows, _name(name, size, f"{slot.hand} sign", wide), 0, height - size.rows)
    elif height > size.rows:
        put(rows, 0, size.rows, name, role)
    return rows


def _name(name: str, size: _Size, role: str, wide: int) -> Rows:
    """Return the note's name in letters as large as the finger number; too long a one is written small."""
    breadth = glyphs.breadth(size.word(name.upper()))
    if breadth > (wide if size.square else 2 * wide):
        if size.square:
            return _name(name, _Size(size.pixels, square=False), role, wide)
        return [text_row(name, wide, role, ground="back")]
    return _sign(name.upper(), size, role, wide)


def _sign(text: str, size: _Size, role: str, room: int) -> Rows:
    """Return a sign after a pixel of space, exactly `room` columns broad."""
    pixels = room if size.square else 2 * room
    space = 0 if size.aside and len(text) > 1 else glyphs.gap(size.pixels)
    word = size.word(text)
    if glyphs.breadth(word) + space >= pixels and len(text) > 1:
        word = size.word(text, slim=True)
    lines = tuple(((0,) * space + line + (0,) * pixels)[:pixels] for line in word)
    return half_blocks(lines, role) if size.square else quarter_blocks(lines, role)
