"""What song files call comping rhythms and left-hand patterns; `performance/rhythms.py` has the rhythms themselves."""

COMP_NAMES = (
    "whole", "half", "quarters", "charleston", "reverse charleston", "off-beats", "bossa", "ballad eighths",
    "6/8 broken", "shuffle", "pushes",
)  # fmt: skip
"""Comping rhythms by the names of the trade."""

PATTERN_NAMES = ("root and fifth", "octaves", "1-5-8", "1-5-10", "stride", "walking")
"""Left-hand patterns where no bass player is, by the names of the trade."""

RESTRIKES = ("bar", "chord", "never")
"""When a key that two chords share is struck again on a sound that decays, the usual word first."""


def plain_name(name: str) -> str:
    """Return a name as it is looked up: small letters, single spaces."""
    return " ".join(name.lower().split())
