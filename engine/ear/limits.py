"""How low two notes may sit before they blur: low interval limits, a guide and not a wall."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

ARRANGING: dict[int, int] = {1: 52, 2: 51, 3: 48, 4: 46, 5: 46, 6: 47, 7: 34, 8: 41, 9: 41, 10: 41, 11: 41}
"""Interval in semitones -> lowest clear key (MIDI number) of its lower note. Source: the arranging teachers' table of
low interval limits, as coded in open arranging software (common practice): m2 E3, M2 Eb3, m3 C3, M3 and P4 Bb2, P5 Bb1,
sixths and sevenths F2. Its tritone, B2, is disputed by an octave."""

GLOSSARY: dict[int, int] = {1: 52, 2: 51, 3: 48, 4: 47, 5: 45, 6: 35, 7: 37, 8: 41, 9: 41, 10: 41, 11: 41}
"""The same from an orchestration glossary: its M3 (B2), P4 (A2), tritone (B1) and P5 (Db2) differ."""

LOWEST_CLEAR: dict[int, int] = {
    1: 52, 2: 51, 3: 48, 4: 46, 5: 46, 6: 46, 7: 34, 8: 41, 9: 41, 10: 41, 11: 41, 12: 0,
    13: 40, 14: 39, 15: 36, 16: 34,
}  # fmt: skip
"""What is used: where the tables agree their value, else the arranging table's; the tritone like its neighbours (own
choice); ninths and tenths an octave below seconds and thirds (common practice: m9 E2, M9 Eb2, m10 C2, M10 Bb1), which
makes a spread clear where a close chord is mud. An octave is clear everywhere."""


@dataclass(frozen=True, slots=True)
class Blur:
    """Two neighbouring keys (MIDI numbers) that sit `short` semitones below their limit."""

    low: int
    high: int
    short: int


@lru_cache(maxsize=65536)
def muddiness(keys: tuple[int, ...], root_beneath: int | None = None) -> float:
    """Return how far a chord sits below its clear register.

    Args:
        keys: MIDI numbers, low to high, no repeats.
        root_beneath: pitch class of a root that somebody else plays, or that the ear adds: unless it is the lowest key
            already, the chord is weighed again with it in the next place beneath. Source: common practice.

    Returns:
        Semitones below the limits, summed over neighbouring pairs; 0.0 is clear. Wider intervals are clear.

    Raises:
        ValueError: `keys` does not ascend.
    """
    return float(sum(blur.short for blur in blurred(keys, root_beneath)))


def blurred(keys: tuple[int, ...], root_beneath: int | None = None) -> tuple[Blur, ...]:
    """Return the neighbours that sit too low, from the bottom; the arguments are those of `muddiness`."""
    if any(low >= high for low, high in pairwise(keys)):
        raise ValueError(f"keys must ascend: {keys}")
    heard = keys if root_beneath is None or not keys else with_root(keys, root_beneath)
    short = ((low, high, LOWEST_CLEAR.get(high - low, 0) - low) for low, high in pairwise(heard))
    return tuple(Blur(low, high, below) for low, high, below in short if below > 0)


def with_root(keys: tuple[int, ...], root: int) -> tuple[int, ...]:
    """Return the keys with the pitch class `root` in the next place beneath, or as they are when it is the lowest."""
    beneath = (keys[0] - root) % 12
    return (keys[0] - beneath, *keys) if beneath else keys


def lift_that_clears(keys: tuple[int, ...], root_beneath: int | None = None) -> int:
    """Return by how many semitones the whole chord must rise at least to be clear; the root beneath rises with it."""
    return max((blur.short for blur in blurred(keys, root_beneath)), default=0)
