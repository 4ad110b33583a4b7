"""Where the band is: the sections in a strip with the present one marked, its bar and its pass."""

from collections.abc import Sequence

from rich.cells import cell_len

from engine.song.model import Step
from engine.song.section_passes import pass_of, stretches
from tui.widgets import glyphs
from tui.widgets.cells import Row, Rows, blank, overlay, pad, text_cells, text_row
from tui.widgets.lettering import words_rows


def roadmap_rows(steps: Sequence[Step], index: int, width: int, height: int) -> Rows:
    """Return where the step at `index` lies: one row is the strip of sections, two add bar and pass in words.

    From four rows on, section, bar and pass are letters five pixels high.
    """
    if width <= 0 or height <= 0 or not steps:
        return blank(width, height)
    index = max(0, min(index, len(steps) - 1))
    rows = [strip(steps, index, width)]
    if height >= 4:
        rows += words_rows(place_figures(steps, index, width), width, height - 1, "cue")
    else:
        rows.append(text_row(place_words(steps, index), width, "text", ground="back"))
    return pad(rows, width, height)


def place_words(steps: Sequence[Step], index: int) -> str:
    """Return where a step lies: `Verse, bar 5 of 8, pass 2 of 3`; between repeat signs also `time 2 of 4`."""
    step = steps[index]
    bar = f"bar {step.bar} of {step.bars}" if step.bar else "pickup"
    present, passes = pass_of(steps, index)
    turn = f", time {step.turn} of {step.turns}" if step.turns > 1 else ""
    return f"{step.section}, {bar}" + (f", pass {present} of {passes}" if passes > 1 else "") + turn


def place_figures(steps: Sequence[Step], index: int, width: int) -> str:
    """Return the same as short as large letters in `width` columns need: `Verse 5/8 (2/3)` at the shortest."""
    step = steps[index]
    present, passes = pass_of(steps, index)
    bar = f"{step.bar}/{step.bars}" if step.bar else "pickup"
    forms = [f"{step.section}  bar {bar}" if step.bar else f"{step.section}  {bar}", f"{step.section} {bar}"]
    for word, count, of in (("pass", present, passes), ("time", step.turn, step.turns)):
        if of > 1:
            forms = [f"{forms[0]}  {word} {count}/{of}", f"{forms[1]} ({count}/{of})"]
    return next((form for form in forms if glyphs.breadth(glyphs.plain(form.upper())) <= width), forms[-1])


def strip(steps: Sequence[Step], index: int, width: int) -> Row:
    """Return the sections in one row, scrolled so that the present one shows; what is cut off ends in an arrow."""
    row, here, end, _ = _sections(steps, index, width)
    return _scrolled(row, here, end, width)


def section_at(steps: Sequence[Step], index: int, width: int, x: int) -> int | None:
    """Return the first step of the section that `strip` shows in column `x`, None between two."""
    row, here, end, places = _sections(steps, index, width)
    column = x + _start(len(row), here, end, width)
    return next((first for first, left, right in places if left <= column < right), None)


def _sections(steps: Sequence[Step], index: int, width: int) -> tuple[Row, int, int, list[tuple[int, int, int]]]:
    """Return all sections in one row, where the present one begins and ends in it, and for each its first step and the
    columns from and to which it stands."""
    row: Row = []
    here, end = 0, 0
    places: list[tuple[int, int, int]] = []
    for stretch in stretches(steps):
        present = stretch.first <= index < stretch.end
        passes = f" {pass_of(steps, index)[0]}/{stretch.passes}" if present else f" ×{stretch.passes}"
        name = stretch.name + (passes if stretch.passes > 1 else "")
        text = f"[{name}]" if present else f" {name} "
        role = "here" if present else "bar" if stretch.first > index else "bar past"
        if present:
            here = len(row)
        first = len(row)
        row += [*text_cells(text, max(0, width * 50), role), (" ", "back")]
        places.append((stretch.first, first, len(row) - 1))
        end = len(row) if present else end
    return row[:-1], here, end - 1, places


def _start(columns: int, here: int, end: int, width: int) -> int:
    """Return the first column that is shown of a row of so many."""
    start = max(0, min(here - width // 4, columns - width)) if columns > width else 0
    return min(start, here) if end - here > width else max(start, end - width, 0)


def _scrolled(row: Row, here: int, end: int, width: int) -> Row:
    start = _start(len(row), here, end, width)
    picture = blank(width, 1)
    overlay(picture, [row[start : start + width]], 0, 0)
    line = pad(picture, width, 1)[0]
    if start > 0 and here > start:
        line[0] = ("‹", "dim")
    if start + width < len(row) and end < start + width:
        line[-1] = ("›", "dim")
    return _uncut(line)


def _uncut(row: Row) -> Row:
    """Return a row with a space for each half of a double-width character that has lost its other half."""
    whole = list(row)
    for place, (char, role) in enumerate(row):
        wide = cell_len(char) > 1
        alone = wide and (place + 1 == len(row) or row[place + 1][0])
        orphan = not char and (place == 0 or cell_len(row[place - 1][0]) < 2)
        if alone or orphan:
            whole[place] = (" ", role)
    return whole
