"""Where to start again in a song, as bands say it: a section, so many bars before it, a bar, the last ending, a loop.

Each function takes a rehearsal and returns another at that place; `rehearsal.returned` comes back from there.
"""

from dataclasses import replace

from tui.session.rehearsal import NotThere, Rehearsal, jumped
from tui.session.steps import bars_before, bracketed, section_names, section_passes, section_start


def to_step(now: Rehearsal, step: int) -> Rehearsal:
    """Return a jump to a step of this song."""
    return jumped(now, now.song, min(max(step, 0), len(now.steps)))


def top(now: Rehearsal) -> Rehearsal:
    """Return the first chord of the song."""
    return to_step(now, 0)


def to_section(now: Rehearsal, name: str, bars_early: int = 0) -> Rehearsal:
    """Return the start of a section, or `bars_early` bars before it. Asked for again at its start: its next pass.

    Raises:
        NotThere: no such section in this song.
    """
    starts = section_passes(now.steps, name)
    if not starts:
        raise NotThere(f"no section {name} in this song: {', '.join(section_names(now.steps))}")
    goals = [bars_before(now.steps, start, bars_early) for start in starts]
    place = goals.index(now.step) + 1 if now.step in goals else 0
    return to_step(now, goals[place % len(goals)])


def neighbour_section(now: Rehearsal, direction: int) -> Rehearsal:
    """Return the start of the section after (`direction` 1) or before (-1) this one; back first finds its own start."""
    starts = [index for index, step in enumerate(now.steps) if step.section_start]
    if direction > 0:
        goal = next((start for start in starts if start > now.step), None)
    else:
        goal = next((start for start in reversed(starts) if start < now.step), None)
    if goal is None:
        raise NotThere("that is the last section" if direction > 0 else "this is the top of the song")
    return to_step(now, goal)


def back_bars(now: Rehearsal, bars: int) -> Rehearsal:
    """Return the start of the bar `bars` bars before this one (0: this bar again)."""
    return to_step(now, bars_before(now.steps, now.step, bars))


def to_bar(now: Rehearsal, bar: int) -> Rehearsal:
    """Return a bar of the section being played, counted from 1.

    Raises:
        NotThere: the section has fewer bars.
    """
    anchor = min(now.step, len(now.steps) - 1)
    start = section_start(now.steps, anchor) if now.steps else 0
    for index in range(start, len(now.steps)):
        if index > start and now.steps[index].section_start:
            break
        if now.steps[index].bar == bar:
            return to_step(now, index)
    raise NotThere(f"no bar {bar} in this section")


def last_ending(now: Rehearsal) -> Rehearsal:
    """Return the start of the last ending bracket of the song; without brackets, of its last section."""
    if now.here is None:
        return now
    brackets = bracketed(now.here.song)
    inside = [(step.section, step.bar) in brackets for step in now.steps]
    entered = [not before or step.section_start for before, step in zip([False, *inside], now.steps, strict=False)]
    starts = [index for index, held in enumerate(inside) if held and entered[index]]
    sections = [index for index, step in enumerate(now.steps) if step.section_start]
    goal = starts[-1] if starts else sections[-1] if sections else 0
    return to_step(now, goal)


def looped(now: Rehearsal, first: int, last: int) -> Rehearsal:
    """Return the same place with a loop from one step to another, in either order."""
    return replace(now, loop=(min(first, last), max(first, last)))


def unlooped(now: Rehearsal) -> Rehearsal:
    """Return the same place without a loop."""
    return replace(now, loop=None)
