"""What a horn reads: a chord in its own written pitch."""

from functools import lru_cache

FIFTHS: dict[str, int] = {"C": 0, "Bb": 2, "Eb": 3, "F": 1}
"""A horn's key -> fifths from the sounding to the written chord. Source: common practice, transposing instruments."""


@lru_cache(maxsize=512)
def read_by(horn: str, symbol: str) -> str:
    """Return a sounding chord as a horn in this key reads it."""
    from engine.song.transposing import transpose_symbol

    fifths = FIFTHS.get(horn, 0)
    return transpose_symbol(symbol, fifths) if symbol and fifths else symbol
