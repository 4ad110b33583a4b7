"""Texts of a MIDI file in ASCII, the one alphabet that all its readers agree on. Source: Standard MIDI Files 1.0, meta
events: text is ASCII, other characters only where both sides know of them."""

import unicodedata

PLAIN = {"♭": "b", "♯": "#", "Δ7": "maj7", "Δ": "maj7", "ø7": "m7b5", "ø": "m7b5", "°": "dim"}
"""Sign of a chord symbol -> the same written out."""


def plain(symbol: str) -> str:
    """Return a chord symbol in ASCII: signs written out, accents dropped."""
    for sign, letters in PLAIN.items():
        symbol = symbol.replace(sign, letters)
    return unicodedata.normalize("NFKD", symbol).encode("ascii", "ignore").decode().strip()


def plain_name(name: str) -> str:
    """Return a title or a section's name in ASCII, letters of any script spelled in Latin ones: Тихий is Tikhiy.

    Its letters are letters, never a chord's signs.
    """
    from anyascii import anyascii

    return anyascii(name).strip()
