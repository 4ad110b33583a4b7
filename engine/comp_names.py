"""What song files call comping rhythms and the patterns of a left hand.

`performance/rhythms.py` has the rhythms themselves, `planning/left_hand/slots.py` the patterns.
"""

COMP_NAMES = (
    "whole", "half", "quarters", "charleston", "reverse charleston", "off-beats", "bossa", "ballad eighths",
    "6/8 broken", "shuffle", "pushes",
)  # fmt: skip
"""Comping rhythms by the names of the trade."""

HELD = "held"
"""In place of a rhythm or a pattern: the chords are held, though the song or its file says otherwise."""

LEFT_HAND_NAMES = ("root and fifth", "octaves", "1-5-8", "1-5-10", "stride", "walking")
"""What a left hand may play where no bass player is, by the names of the trade."""

RESTRIKES = ("bar", "chord", "never")
"""When a key that two chords share is struck again on a sound that decays, the usual word first."""


def plain_name(name: str) -> str:
    """Return a name as it is looked up: small letters, single spaces."""
    return " ".join(name.lower().split())
