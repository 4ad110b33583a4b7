"""What song files call comping rhythms; `performance/rhythms.py` has the rhythms themselves."""

COMP_NAMES = (
    "whole", "half", "quarters", "charleston", "reverse charleston", "off-beats", "bossa", "ballad eighths",
    "6/8 broken", "shuffle", "pushes",
)  # fmt: skip
"""Comping rhythms by the names of the trade."""

RESTRIKES = ("bar", "chord", "never")
"""When a key that two chords share is struck again on a sound that decays, the usual word first."""


def plain_name(name: str) -> str:
    """Return a name as it is looked up: small letters, single spaces."""
    return " ".join(name.lower().split())
