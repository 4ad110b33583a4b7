"""Same shape, other name: when the hand already holds the next chord.

Source: common practice: a dominant and its tritone substitute share third and seventh, C6 is Am7, a diminished seventh
is a rootless dominant with a flat ninth.
"""

from engine.planning.model import PlannedStep
from engine.practice.model import hands_of, leaving


def holding(before: PlannedStep, after: PlannedStep) -> tuple[bool, bool]:
    """Return for the left and the right hand whether it already holds all it needs next, with nothing to lift."""
    left, right = (bool(one.keys) and one == other for one, other in zip(leaving(before), hands_of(after), strict=True))
    return left, right


def already_held(before: PlannedStep | None, after: PlannedStep | None) -> bool:
    """True when no finger of either hand has anything to do."""
    return before is not None and after is not None and bool(after.keys) and leaving(before) == hands_of(after)


def shape_words(before: PlannedStep | None, after: PlannedStep | None) -> str:
    """Say which hand already holds the next chord: "same shape: you already hold Db7", "right hand already holds
    Db7"; "" when neither does, or when the chord has not changed its name."""
    if before is None or after is None or before.step.symbol == after.step.symbol:
        return ""
    name = after.step.symbol
    if already_held(before, after):
        return f"same shape, other name: you already hold {name}"
    left, right = holding(before, after)
    if left == right:
        # Both hands still and yet not the same: one of them rests or comes in.
        return ""
    return f"the {'left' if left else 'right'} hand already holds its part of {name}"
