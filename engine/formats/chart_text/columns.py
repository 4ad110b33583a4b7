"""Two columns side by side, read one after the other: they stand under names of sections in one line."""

import re
from collections.abc import Callable, Iterator

_NAMES = re.compile(r"\S+(?: \S+)*(?= {3,}|\s*$)")


def numbered(text: str, is_heading: Callable[[str], bool]) -> Iterator[tuple[int, str]]:
    """Yield every line with its number from 1; where names of sections stand side by side, column by column."""
    lines = text.splitlines()
    at = 0
    while at < len(lines):
        starts = column_starts(lines[at], is_heading)
        end = at + 1
        if starts:
            while end < len(lines) and lines[end].strip() and not column_starts(lines[end], is_heading):
                end += 1
        if starts and all(_parted(line, starts) for line in lines[at + 1 : end]):
            for start, stop in zip(starts, [*starts[1:], None], strict=True):
                yield from ((place + 1, lines[place][start:stop]) for place in range(at, end))
        else:
            yield from ((place + 1, lines[place]) for place in range(at, end))
        at = end


def column_starts(line: str, is_heading: Callable[[str], bool]) -> list[int]:
    """Return where the columns begin that a line's names of sections stand over; [] where it has not two of them."""
    found = list(_NAMES.finditer(line))
    return [name.start() for name in found] if len(found) > 1 and all(is_heading(name[0]) for name in found) else []


def _parted(line: str, starts: list[int]) -> bool:
    """Tell whether a line has nothing that reaches over from a column into the next."""
    return all(len(line) <= start or not line[start - 1 : start].strip() for start in starts[1:])
