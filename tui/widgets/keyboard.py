"""A drawn keyboard with both hands on it, finger numbers on their keys.

The left hand's keys are hatched, the right hand's solid, and finger numbers run down and up, so colour is never the
only sign. Where the next chord's fingers land stands their number, open: in the hand's colour on a dark ground, while
the present ones are dark on the hand's colour. A left hand whose pattern goes on in another position has its keys there
open first. Keys sounding from the player's own keyboard wear a dot: see `LEGEND`.
The range is fixed by the caller (`song_range`), so that keys never jump between two chords.
"""

from functools import lru_cache

from engine.hand.keyboard import black
from engine.planning.model import Plan, PlannedNote, PlannedStep
from tui.widgets.blocks import figure
from tui.widgets.cells import Cell, Rows, beside, blank, overlay, pad, put, text_row

LEGEND = "left hand hatched ▒  right hand solid █  number on dark: comes next  ○ stays  ● sounding"

_STARTS, _ENDS = (0, 5), (4, 11)
"""Pitch classes at which a group of keys begins and ends: C and F, E and B."""
_WHITE: Cell = (" ", "white")
_DARK: Cell = ("░", "black")
"""An idle black key: the shade shows in the plain theme only, elsewhere ink and ground are the same."""

Fingers = tuple[tuple[int, int], ...]
"""(key, finger) of one hand; finger 0 where none is known."""

Landing = tuple[tuple[int, str, int], ...]
"""(key, hand, finger) of the next chord."""


def keyboard_rows(
    now: PlannedStep | None,
    coming: PlannedStep | None,
    low: int,
    high: int,
    width: int,
    height: int,
    held: tuple[int, ...] = (),
    coarse: bool = False,
) -> Rows:
    """Return the keyboard from `low` to `high` (MIDI numbers) with the present chord and the next one's fingers.

    Where that range needs more columns than there are, each hand gets a half keyboard of its own (`close_up`). A key of
    the present chord outside the range widens it, since no note may be missing. `coarse` draws the finger numbers in
    half blocks, for consoles whose font lacks quarter blocks, and types them on narrow keys.
    """
    if width <= 0 or height <= 0:
        return blank(width, height)
    left, right = _fingers(now.left if now else ()), _fingers(now.right if now else ())
    following = _coming(coming, now)
    low, high = _outwards(min(low, high), max(low, high))
    if (now and now.keys) and (now.keys[0] < low or now.keys[-1] > high):
        low, high = _span([low, high, *now.keys])
    if width < 2 * _whites(low, high) and left and right and width >= 40:
        return close_up(left, right, following, width, height, held, coarse)
    return [
        list(row) for row in _drawn(left, right, following, tuple(sorted(set(held))), low, high, width, height, coarse)
    ]


def close_up(
    left: Fingers,
    right: Fingers,
    following: Landing,
    width: int,
    height: int,
    held: tuple[int, ...] = (),
    coarse: bool = False,
) -> Rows:
    """Return two keyboards of half the width, one a hand, with a gap of two columns between them."""
    half = (width - 2) // 2
    middle = (max(key for key, _ in left) + min(key for key, _ in right)) // 2
    parts = []
    halves = ((left, [k for k in following if k[0] <= middle]), (right, [k for k in following if k[0] > middle]))
    for hand, keys in halves:
        own = [key for key, _ in hand]
        near = [key for key, *_ in keys if min(own) - 12 <= key <= max(own) + 12]
        low, high = _span(own + near, least=16)
        fingers = (hand, ()) if hand is left else ((), hand)
        parts.append(
            [list(row) for row in _drawn(*fingers, tuple(keys), tuple(sorted(held)), low, high, half, height, coarse)]
        )
    return pad(beside(parts[0], blank(2, height), parts[1]), width, height)


def song_range(plan: Plan) -> tuple[int, int]:
    """Return the keys (lowest, highest) to draw for a whole song: from a C or F to an E or B, two octaves at least."""
    keys = [key for step in plan.steps for key in step.touched]
    return _span(keys or [48, 72])


def _span(keys: list[int], least: int = 23) -> tuple[int, int]:
    """Return a range from a C or F to an E or B round the keys, `least` semitones at least."""
    low, high = max(0, min(keys)), min(127, max(keys))
    while low % 12 not in _STARTS and low > 0:
        low -= 1
    while (high % 12 not in _ENDS and high < 127) or (high - low < least and high < 119):
        high += 1
    return low, high


def _outwards(low: int, high: int) -> tuple[int, int]:
    """Return the range grown to white keys at both ends, inside 0 to 127."""
    low, high = max(0, min(127, low)), max(0, min(127, high))
    return low - black(low), high + black(high)


def _whites(low: int, high: int) -> int:
    return sum(not black(key) for key in range(low, high + 1))


def _fingers(notes: tuple[PlannedNote, ...]) -> Fingers:
    return tuple((note.key, note.finger) for note in notes)


def _coming(step: PlannedStep | None, now: PlannedStep | None) -> Landing:
    """Return where the next chord's fingers land; a left hand that goes on to another position of its pattern has its
    keys there first."""
    rest = _rest_of_pattern(now) if now else ()
    if step is None:
        return tuple((note.key, "left", note.finger) for note in rest)
    hands = (("left", rest or step.left), ("right", step.right))
    return tuple((note.key, hand, note.finger) for hand, notes in hands for note in notes)


def _rest_of_pattern(now: PlannedStep) -> tuple[PlannedNote, ...]:
    """Return the notes of a left hand's pattern that lie beyond the position in which it begins."""
    held = {note.key for note in now.left}
    later = {note.key: note for stroke in reversed(now.strokes) for note in stroke.notes if note.key not in held}
    return tuple(later[key] for key in sorted(later))


@lru_cache(maxsize=96)
def _drawn(
    left: Fingers,
    right: Fingers,
    following: Landing,
    held: tuple[int, ...],
    low: int,
    high: int,
    width: int,
    height: int,
    coarse: bool,
) -> tuple[tuple[Cell, ...], ...]:
    wide = width // max(1, _whites(low, high))
    if wide < 1:
        return tuple(tuple(row) for row in _in_letters(left, right, width, height))
    board = _Board(low, high, wide, height, coarse)
    hands = {**{key: ("left", finger) for key, finger in left}, **{key: ("right", finger) for key, finger in right}}
    keys = [key for key in range(low, high + 1) if not black(key)]
    keys += [key for key in range(low, high + 1) if black(key)]
    lands = {key: (hand, finger) for key, hand, finger in following}
    for key in keys:
        board.draw(key, *hands.get(key, ("", 0)), lands.get(key, ("", 0)), key in held)
    if height == 1:
        for key, (hand, finger) in hands.items():
            board.label(key, hand, finger)
    picture = blank(width, height)
    overlay(picture, board.rows, (width - wide * board.count) // 2, 0)
    return tuple(tuple(row) for row in picture)


def _in_letters(left: Fingers, right: Fingers, width: int, height: int) -> Rows:
    """Return the keys as numbers where no keyboard can be drawn."""
    rows = blank(width, height)
    for place, (name, hand) in enumerate((("LH", left), ("RH", right))):
        if place < height:
            keys = " ".join(f"{finger}:{key}" for key, finger in hand)
            rows[place] = text_row(f"{name} {keys}", width, "left text" if place == 0 else "right text")
    return rows


def _deep(height: int) -> int:
    """Return the rows of a black key; from six rows on white keys keep a figure's rows below them."""
    if height < 2:
        return height
    return height - (figure_rows(height) if height >= 6 else max(1, height * 3 // 8))


def figure_rows(height: int) -> int:
    """Return the rows of a finger number on a keyboard so many rows high, from six on."""
    return max(3, (2 * height + 2) // 5)


class _Board:
    """A keyboard being drawn: white keys `wide` columns each, black keys over their boundaries."""

    def __init__(self, low: int, high: int, wide: int, height: int, coarse: bool) -> None:
        self.low, self.wide, self.height, self.coarse = low, wide, height, coarse
        self.count = _whites(low, high)
        self.deep = _deep(height)
        self.rows = blank(wide * self.count, height)

    def draw(self, key: int, hand: str, finger: int, lands: tuple[str, int], dot: bool) -> None:
        """Draw one key; white keys must come before black ones. `lands` is the hand and finger that comes next."""
        if black(key):
            self._black(key, hand, finger, lands, dot)
        else:
            self._white(key, hand, finger, lands, dot)

    def label(self, key: int, hand: str, finger: int) -> None:
        """Write a white key's finger over the only row there is."""
        if finger and self.low <= key and not black(key):
            x = self.wide * _whites(self.low, key - 1) if key > self.low else 0
            put(self.rows, x + self.wide // 2, 0, str(finger), f"{hand} digit")

    def _white(self, key: int, hand: str, finger: int, lands: tuple[str, int], dot: bool) -> None:
        x = self.wide * _whites(self.low, key - 1) if key > self.low else 0
        body = [[("▏", hand or "white")] + self._body(hand, _WHITE) * (self.wide - 1)] if self.wide > 1 else []
        overlay(self.rows, (body or [self._body(hand, _WHITE)]) * self.height, x, 0)
        first = self.deep if self.deep < self.height else 0
        if hand:
            self._number(x, first, self.wide, self.height - first, hand, finger)
        elif lands[1]:
            self._number(x, first, self.wide, self.height - first, f"{lands[0]} open", lands[1])
        elif key % 12 == 0 and self.wide >= 3:
            put(self.rows, x + 1, self.height - 1, f"C{key // 12 - 1}"[: self.wide - 1], "white")
        mark = "●" if dot else "○" if lands[0] and (hand or not lands[1]) else ""
        if mark:
            y = self.height - 1 if not (hand or lands[1]) else max(0, first - 1)
            put(self.rows, x + self.wide // 2, y, mark, hand or ("held" if dot else "white"))

    def _black(self, key: int, hand: str, finger: int, lands: tuple[str, int], dot: bool) -> None:
        edge = self.wide * _whites(self.low, key)
        if self.wide < 3:
            self._narrow_black(edge, hand, finger, lands, dot)
            return
        broad = max(2, (self.wide * 3) // 5)
        x = edge - broad // 2 - (broad % 2 if key % 12 in (1, 6) else 0)
        overlay(self.rows, [self._body(hand, _DARK) * broad] * self.deep, x, 0)
        role, number = (hand, finger) if hand else (f"{lands[0]} open", lands[1])
        if number:
            # On a key of two columns the figure's own ground is one wider, else it would run into what lies beside it.
            high = min(self.deep, figure_rows(self.height))
            self._number(x, self.deep - high, max(3, broad), high, role, number, black=True)
        if dot or (lands[0] and (hand or not number)):
            role = hand or ("held" if dot else "black next")
            put(self.rows, x + (broad - 1) // 2, 0 if hand or number else self.deep - 1, "●" if dot else "○", role)

    def _narrow_black(self, edge: int, hand: str, finger: int, lands: tuple[str, int], dot: bool) -> None:
        paint = hand or ("held" if dot else "black")
        for y in range(self.deep):
            for x, half in ((edge - 1, "▐"), (edge, "▌")):
                below = self.rows[y][x][1].split()[0] if 0 <= x < len(self.rows[y]) else "white"
                put(self.rows, x, y, half, f"{paint} on {below}")
        role, number = (hand, finger) if hand else (f"{lands[0]} open", lands[1])
        if number and not dot:
            y = max(0, self.deep - 3)
            self._number(edge - 1, y, 2, min(3, self.deep), role, number)
        elif dot:
            put(self.rows, edge - 1, self.deep - 1, "●", "black next")
            put(self.rows, edge, self.deep - 1, " ", "black")

    def _body(self, hand: str, idle: Cell) -> list[Cell]:
        return [{"left": ("▒", "left hatch"), "right": (" ", "right solid")}.get(hand, idle)]

    def _number(self, x: int, y: int, broad: int, high: int, hand: str, finger: int, black: bool = False) -> None:
        """Write a finger number on a key's free part, as large as it allows, in the middle."""
        if not finger:
            return
        edge = 0 if black or broad < 3 else 1
        if high >= 3 and broad >= 2 and (not self.coarse or broad - edge >= 3):
            # A filled black key must show round its figure.
            whole = black and high == self.deep and not hand.endswith("open")
            cells = figure(str(finger), hand, broad, high, edge, self.coarse, 5 if whole and high == 3 else 2 * high)
            overlay(self.rows, cells, x + edge, y + high - len(cells))
        else:
            put(
                self.rows, x + broad // 2, y + high - 1, str(finger), hand if hand.endswith("open") else f"{hand} digit"
            )
