"""How the rows of the stand are shared out among its bands."""

from dataclasses import dataclass, replace

from tui.widgets.moves import rows_for, sign_pixels

SMALLEST = (50, 14)
"""Below this many columns or rows only the chords are shown, and a word about it."""

SPLIT = (100, 20)
"""Fewer columns or rows show the split layout as the player's."""


@dataclass(frozen=True, slots=True)
class Heights:
    """Rows of each band; 0 where the band is left out."""

    bar: int
    chords: int
    moves: int
    keyboard: int
    roadmap: int
    place: int
    status: int
    ahead: int = 0


ROOMY = 50
"""Rows from which roadmap and coming bars are written twice as large."""

LARGE = 6
"""Rows of a chord that can do with one less."""

WIDE = 100
"""Columns from which the coming bars always have a row of their own."""


def heights(width: int, height: int, layout: str = "player", looks_ahead: bool = False) -> Heights:
    """Share the rows out: the chords get what the hands and the roadmap leave. The coming bars stand below it where it
    is wide enough, else in place of the roadmap if the player `looks_ahead`."""
    if width < SMALLEST[0] or height < SMALLEST[1]:
        bar = 1 if height >= 4 else 0
        status = 1 if height >= 3 else 0
        return Heights(bar, max(0, height - bar - status), 0, 0, 0, 0, status)
    roadmap = 1 if height < 28 else 4 if height < ROOMY else 7
    ahead = _ahead(width, height)
    if looks_ahead and not ahead:
        roadmap, ahead = 0, 1
    rest = height - 3 - roadmap - ahead
    if layout == "leader":
        roadmap = (4 if height >= 20 else 1) if roadmap else 0
        moves, keyboard = (2, 0) if height < 32 else (4, 5)
        return Heights(1, height - 3 - roadmap - ahead - moves - keyboard, moves, keyboard, roadmap, 1, 1, ahead)
    lettered = width >= 60 and rest >= 18
    named = width >= 80 and rest >= 20
    moves = (rows_for(width, sign_pixels(height)) if named else 4) if lettered else 2
    share = rest * 7 // 20 if moves >= 6 else rest * 2 // 5
    keyboard = max(4, min(14, share if rest < 34 else rest // 4 + 4))
    return Heights(1, rest - moves - keyboard, moves, keyboard, roadmap, 1, 1, ahead)


def with_words(rows: Heights, needed: int, whole: bool = False) -> Heights:
    """Return the rows with more of them for the words of the place, if those need so many: large coming bars become
    small and stay, the roadmap gives way, which the words tell too; the `whole` words take the keyboard's place."""
    more = needed - rows.place
    if more <= 0 or not rows.place:
        return rows
    if whole and rows.keyboard:
        return replace(rows, place=rows.place + rows.keyboard, keyboard=0)
    if rows.ahead > 1:
        return replace(rows, place=rows.place + rows.ahead - 1, ahead=1)
    if rows.ahead and rows.roadmap != 1:
        # They were asked for, or are promised: a large chord can spare a row.
        spared = rows.chords > LARGE
        chords, ahead = (rows.chords - 1, rows.ahead) if spared else (rows.chords, 0)
        return replace(rows, place=rows.place + 1, chords=chords, ahead=ahead)
    left = 1 if rows.roadmap > 1 else 0
    return replace(rows, place=rows.place + rows.roadmap - left, roadmap=left)


def _ahead(width: int, height: int) -> int:
    if width < WIDE or height < 24:
        return 0
    return 1 if height < 34 else 3 if height < ROOMY else 5


def is_split(layout: str, width: int, height: int) -> bool:
    """Tell whether the song in bars has room beside the stand."""
    return layout == "split" and width >= SPLIT[0] and height >= SPLIT[1]
