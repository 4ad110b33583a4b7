"""How low two notes may sit before they blur: low interval limits, a guide and not a wall."""

from functools import lru_cache
from itertools import pairwise

ARRANGING: dict[int, int] = {1: 52, 2: 51, 3: 48, 4: 46, 5: 46, 6: 47, 7: 34, 8: 41, 9: 41, 10: 41, 11: 41}
"""Interval in semitones -> lowest clear key (MIDI number) of its lower note. Source: the arranging teachers' table of
low interval limits, as coded in open arranging software (common practice). Its tritone, B2, is disputed by an
octave."""

GLOSSARY: dict[int, int] = {1: 52, 2: 51, 3: 48, 4: 47, 5: 45, 6: 35, 7: 37, 8: 41, 9: 41, 10: 41, 11: 41}
"""The same from a second published table, an orchestration glossary: its fourth, major third, tritone and fifth
differ."""

LOWEST_CLEAR: dict[int, int] = {
    1: 52, 2: 51, 3: 48, 4: 46, 5: 46, 6: 46, 7: 34, 8: 41, 9: 41, 10: 41, 11: 41, 12: 0, 13: 52, 14: 51, 15: 48, 16:
    46,
}  # fmt: skip
"""What is used: where the tables agree their value, else the arranging table's; the tritone like its neighbours (own
choice); a compound second or third like the simple one (from memory). An octave is clear everywhere."""


@lru_cache(maxsize=65536)
def muddiness(keys: tuple[int, ...]) -> float:
    """Return how far a chord sits below its clear register.

    Args:
        keys: MIDI numbers, low to high, no repeats.

    Returns:
        Semitones below the limits, summed over neighbouring pairs; 0.0 is clear. Wider intervals are clear.

    Raises:
        ValueError: `keys` does not ascend.
    """
    pairs = list(pairwise(keys))
    if any(low >= high for low, high in pairs):
        raise ValueError(f"keys must ascend: {keys}")
    return float(sum(max(0, LOWEST_CLEAR.get(high - low, 0) - low) for low, high in pairs))
