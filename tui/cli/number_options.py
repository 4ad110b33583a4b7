"""Numbers on the command line: what is none, or out of bounds, is refused in words."""

import math
from typing import TYPE_CHECKING, Any

import click

from engine.song.section_tempo import FASTEST, SLOWEST

# Newer releases of click know what a parameter type yields, older ones cannot be asked.
if TYPE_CHECKING:
    _Type = click.ParamType[float]
else:
    _Type = click.ParamType


class Amount(_Type):
    """A number from `low` to `high`, both allowed; `unit` is what they count."""

    name = "number"

    def __init__(self, low: float, high: float = math.inf, unit: str = "") -> None:
        self.low, self.high, self.unit = low, high, unit

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        try:
            number = self._read(value)
        except ValueError:
            number = math.nan
        if not self.low <= number <= self.high:
            self.fail(f"{value} is no {self._wanted()}.", param, ctx)
        return number

    def _read(self, value: Any) -> float:
        return float(str(value).replace(",", "."))

    def _wanted(self) -> str:
        bounds = f"from {self.low:g} up" if self.high == math.inf else f"from {self.low:g} to {self.high:g}"
        return " ".join(filter(None, ("number", bounds, self.unit)))


class Count(Amount):
    """A whole number from `low` to `high`."""

    def _read(self, value: Any) -> int:
        return int(str(value))

    def _wanted(self) -> str:
        return f"whole {super()._wanted()}"


REACH = Amount(120, 330, "mm")
"""Thumb to little finger; wider than any hand, so that only slips are refused (own choice)."""
SONG_NUMBER = Count(1)
TEMPO = Amount(SLOWEST, FASTEST, "beats a minute")
