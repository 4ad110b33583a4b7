"""Places in a song as played, found in its steps: sections and their letters, bars, endings, lengths.

Steps count from 0; everything here is pure.
"""

from engine.song.model import Song, Step


def section_start(steps: tuple[Step, ...], step: int) -> int:
    """Return the first step of the section's pass that `step` lies in."""
    while step > 0 and not steps[step].section_start:
        step -= 1
    return step


def last_of_section(steps: tuple[Step, ...], step: int) -> bool:
    """Tell whether a step is the last one of its section's pass."""
    return step + 1 >= len(steps) or steps[step + 1].section_start


def same_place(old: tuple[Step, ...], step: int, new: tuple[Step, ...]) -> int:
    """Return where a step's bar and beat lie in other steps of its song; where there are none, the nearest place."""
    if old is new or not 0 <= step < len(old):
        return step if step < len(old) else len(new)
    wanted = old[step]
    here = (wanted.section, wanted.pass_, wanted.turn, wanted.bar)
    same = [one.index for one in new if (one.section, one.pass_, one.turn, one.bar) == here]
    earlier = [index for index in same if new[index].beat <= wanted.beat]
    return (earlier[-1:] or same[:1] or [min(step, len(new))])[0]


def section_names(steps: tuple[Step, ...]) -> tuple[str, ...]:
    """Return the sections in the order they first appear."""
    return tuple(dict.fromkeys(step.section for step in steps))


def section_letters(steps: tuple[Step, ...]) -> dict[str, str]:
    """Give each section one small letter: its first if free, else the next one of its name, else any.

    A name that is a single letter keeps it.
    """
    letters: dict[str, str] = {}
    names = section_names(steps)
    for name in sorted(names, key=lambda name: (len(name) > 1, names.index(name))):
        own = [char for char in name.casefold() if char.isascii() and char.isalpha()]
        free = [char for char in [*own, *"abcdefghijklmnopqrstuvwxyz"] if char not in letters]
        if free:
            letters[free[0]] = name
    return letters


def section_passes(steps: tuple[Step, ...], name: str) -> tuple[int, ...]:
    """Return the first step of every pass of a section."""
    return tuple(index for index, step in enumerate(steps) if step.section_start and step.section == name)


def bar_starts(steps: tuple[Step, ...]) -> tuple[int, ...]:
    """Return the first step of every bar as played, repeats written out."""
    starts = []
    for index, step in enumerate(steps):
        before = steps[index - 1] if index else None
        if before is None or step.section_start or step.bar != before.bar or step.beat <= before.beat:
            starts.append(index)
    return tuple(starts)


def bars_before(steps: tuple[Step, ...], step: int, bars: int) -> int:
    """Return the first step of the bar that lies `bars` bars before the one that holds `step`; at most the top."""
    starts = bar_starts(steps)
    here = sum(1 for start in starts if start <= step) - 1
    return starts[max(here - bars, 0)] if starts else 0


def bracketed(song: Song) -> frozenset[tuple[str, int]]:
    """Return (section, bar as counted in steps) of every bar under an ending bracket."""
    return frozenset(
        (section.name, number + (0 if section.pickup else 1))
        for section in song.sections
        for number, bar in enumerate(section.bars)
        if bar.ending
    )
