"""One section while it is being read: bars done, faults and words found, and the bar under the pen."""

from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction

from engine.chord.model import Chord
from engine.errors import Fault
from engine.song.model import Event
from engine.song.signs import Sign
from engine.theory.meter import Meter

ReadWord = Callable[[str], tuple[str, Chord | None]]
"""A written word -> its symbol in plain English letters and its chord; raises SymbolError."""
At = Callable[[int], tuple[int, int]]
"""Offset in the text of the bars -> line and column of the file, from 1."""

MOST_FAULTS = 200
"""Faults told of one section (own choice)."""


@dataclass(frozen=True, slots=True)
class WrittenBar:
    """A bar with the signs at its edges: `opens` and `ending` stand before it, `closes`, `times` and `double` after."""

    meter: Meter
    events: tuple[Event, ...]
    offset: int
    opens: Sign | None = None
    ending: Sign | None = None
    closes: Sign | None = None
    times: Sign | None = None
    double: bool = False


@dataclass(slots=True)
class Struck:
    """One chord or beat as written in a bar."""

    sign: Sign
    mark: str = ""
    beats: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Word:
    """A chord as its chart writes it: where, the word, and the chord it was read as."""

    line: int
    column: int
    text: str
    chord: Chord | None


@dataclass(slots=True)
class Draft:
    """What is being read of one section: bars done, faults and words found, and the bar under the pen."""

    meter: Meter
    read: ReadWord
    at: At
    pickup: Fraction = Fraction(0)
    bars: list[WrittenBar] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)
    struck: list[Struck] = field(default_factory=list)
    bar_meter: Meter | None = None
    again: Sign | None = None
    opens: Sign | None = None
    ending: Sign | None = None
    line_sign: Sign | None = None
    full: bool = False

    def fault(self, sign: Sign | int, found: str, hint: str) -> None:
        """Note a fault at a sign or at an offset."""
        self.fault_at(self.at(sign if isinstance(sign, int) else sign.offset), found, hint)

    def fault_at(self, place: tuple[int, int], found: str, hint: str) -> None:
        """Note a fault at a line and column, as long as anyone would read on."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(Fault(*place, found, hint))
