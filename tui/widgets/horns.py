"""What a horn reads: a chord in its own written pitch."""

from functools import lru_cache


@lru_cache(maxsize=512)
def read_by(horn: str, symbol: str) -> str:
    """Return a sounding chord as a horn in this key reads it."""
    from engine.song.transposing import WRITTEN, transpose_symbol

    fifths = WRITTEN.get(horn, 0)
    return transpose_symbol(symbol, fifths) if symbol and fifths else symbol
