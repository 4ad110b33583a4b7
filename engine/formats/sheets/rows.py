"""Which bars of a section share a line, and how wide each is. Millimetres."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """Bars of a section that share a line, from the bar `start` on, by what they need; `part` as a line has it, and
    whether its row `wraps`."""

    start: int
    needs: tuple[float, ...]
    part: int = 0
    wraps: bool = False


def rows(needs: Sequence[float], count: int, width: float) -> Iterator[Row]:
    """Yield the lines of a section, `count` bars each; a row that needs more than the width is halved, and again."""
    for start in range(0, len(needs), count):
        parts = list(_halved(tuple(needs[start : start + count]), width))
        for number, part in enumerate(parts):
            yield Row(start, part, number, wraps=len(parts) > 1)
            start += len(part)


def _halved(needs: tuple[float, ...], width: float) -> Iterator[tuple[float, ...]]:
    if len(needs) < 2 or sum(needs) <= width:
        yield needs
        return
    half = (len(needs) + 1) // 2
    yield from _halved(needs[:half], width)
    yield from _halved(needs[half:], width)


def shares(found: Sequence[Row], columns: int, width: float) -> list[list[float]]:
    """Return the widths of the bars, line by line: bars stand under bars where the widest of each column allow it, and
    those of a row that wraps share their line."""
    whole = [row.needs for row in found if not row.wraps]
    most = [max((line[column] for line in whole if column < len(line)), default=0.0) for column in range(columns)]
    even = _shared(most, width) if sum(most) <= width else None
    return [
        _shared(row.needs, width) if row.wraps else even[: len(row.needs)] if even else _own(row.needs, columns, width)
        for row in found
    ]


def _own(needs: tuple[float, ...], columns: int, width: float) -> list[float]:
    """Return the widths of a line that cannot keep to the columns."""
    short = max(width * len(needs) / columns, min(width, sum(needs)))
    return _shared(needs, width if len(needs) == columns else short)


def _shared(needs: Sequence[float], width: float) -> list[float]:
    """Share a line's width evenly; bars that need more get what they need, at the cost of the others."""
    given: dict[int, float] = {}
    while len(given) < len(needs):
        even = (width - sum(given.values())) / (len(needs) - len(given))
        large = {number: need for number, need in enumerate(needs) if number not in given and need > even}
        if not large:
            return [given.get(number, even) for number in range(len(needs))]
        given |= large
    total = sum(needs)
    return [need * width / total for need in needs]
