"""What can be wrong with a musician's request, said so that it can be mended.

Every error keeps its parts as fields, so that an editor can put the cursor where the trouble is.
"""

from dataclasses import dataclass


class EngineError(Exception):
    """Something in the music, a file or a request that the person can mend."""


@dataclass(eq=False)
class SymbolError(EngineError):
    """A chord symbol that cannot be read: `column` counts from 1 inside the symbol."""

    symbol: str
    column: int
    hint: str

    def __str__(self) -> str:
        return f"{self.symbol}: column {self.column}: {self.hint}"


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One mistake in a file: where (from 1), what was found, how to mend it."""

    line: int
    column: int
    found: str
    hint: str

    def __str__(self) -> str:
        return f"{self.line}:{self.column}: {self.found}, {self.hint}"


@dataclass(eq=False)
class ChartError(EngineError):
    """All the faults of one song or set, in the order of the file; without a `source` only their lines are told."""

    source: str
    faults: tuple[Fault, ...]

    def __str__(self) -> str:
        if not self.source:
            places = (f"line {fault.line}: " if (fault.line, fault.column) != (1, 1) else "" for fault in self.faults)
            return "\n".join(
                f"{place}{fault.found}, {fault.hint}" for place, fault in zip(places, self.faults, strict=True)
            )
        return "\n".join(f"{self.source}:{fault}" for fault in self.faults)


@dataclass(eq=False)
class NoGrip(EngineError):
    """No playable state for a chord: the hint names the constraint to relax."""

    symbol: str
    where: str
    hint: str

    def __str__(self) -> str:
        return f"{self.where}: {self.symbol} does not fit the hands, {self.hint}"
