"""Music's own signs in print: Bbm7b5 becomes B♭m7♭5."""

import re

from engine.theory.key import read_key

_FLAT = re.compile(r"(?<=[A-G])b|b(?=b?\d)|(?<=♭)b")


def printed(symbol: str) -> str:
    """Return a chord symbol, a key or a pitch with real accidentals; what is no accidental stays."""
    flat = symbol
    while (signed := _FLAT.sub("♭", flat)) != flat:
        flat = signed
    return flat.replace("#", "♯")


def printed_key(key: str) -> str:
    """Return a key as a heading: `E♭`, `C minor`."""
    named = read_key(key)
    return printed(str(named.tonic)) + (" minor" if named.minor else "")


def tempo_sign(compound: bool) -> str:
    """Return the note that a tempo counts: a quarter, or a dotted quarter in compound meters."""
    return "♩." if compound else "♩"
