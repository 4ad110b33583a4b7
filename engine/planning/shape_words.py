"""A voicing in a player's words: each hand's degrees from low to high, and the shape's name where it has one."""

from collections.abc import Sequence

from engine.planning.model import PlannedNote, PlannedStep

Degrees = Sequence[str]
_STACK = (("1",), ("3", "b3"), ("5", "b5", "#5"), ("7", "b7", "bb7", "6"))
"""The degrees that stand for root, third, fifth and seventh (a sixth chord's sixth in the seventh's place)."""
_INVERSIONS = ("root position", "first inversion", "second inversion", "third inversion")


def shape_words(step: PlannedStep) -> str:
    """Return both hands in words, as in `left 1-5, right shell 3-b7`; a hand that rests is left out, one that plays a
    pattern says it stroke by stroke."""
    rooted = "1" in {note.degree for note in (*step.left, *step.right)}
    left = pattern_degrees(step) or (_hand(step.left, rooted) if step.left else "")
    right = _hand(step.right, rooted) if step.right else ""
    said = ", ".join(f"{name} {words}" for name, words in (("left", left), ("right", right)) if words)
    turned = inversion(step)
    return f"{turned}: {said}" if turned else said


def inversion(step: PlannedStep) -> str:
    """Return which inversion both hands together are, "" where the root lies lowest, or where no triad or seventh chord
    over one of its own tones is written: rootless voicings and shells are named by hand."""
    chord, notes = step.step.chord, [*step.left, *step.right]
    if chord is None or chord.bass == chord.root or not notes:
        return ""
    lowest = min(notes, key=lambda note: note.key)
    part = _part(lowest.degree)
    return _INVERSIONS[part] if part and chord.bass.pc == lowest.key % 12 else ""


def pattern_degrees(step: PlannedStep) -> str:
    """Return a left hand's pattern by name and the degrees of each stroke, `stride 1 b7-3 5 b7-3`; "" without one."""
    if not step.strokes:
        return ""
    return " ".join([step.step.left_hand, *("-".join(note.degree for note in one.notes) for one in step.strokes)])


def strokes_words(step: PlannedStep) -> str:
    """Return the strokes of a pattern with their fingers, `5:D2, 3:C3+1:F3, 5:A2, 3:C3+1:F3`; "" without one."""
    return ", ".join("+".join(f"{note.finger}:{note.name}" for note in stroke.notes) for stroke in step.strokes)


def tune_words(step: PlannedStep) -> str:
    """Return the notes of the player's own tune that begin over a chord with their fingers, `5:G5, 4:F5`; "" without
    any."""
    return ", ".join(f"{note.finger}:{note.name}" for stroke in step.tune for note in stroke.notes)


def shape(keys: Sequence[int], degrees: Degrees, rooted: bool = False) -> str:
    """Return the name of one hand's shape, "" when it has none.

    Args:
        keys: MIDI numbers, ascending.
        degrees: the degree of each key, as in `b3`.
        rooted: the other hand may have the root, and nothing is called rootless.
    """
    parts = [_part(degree) for degree in degrees]
    held = {part for part in parts if part is not None}
    if len(keys) == 2 and held == {1, 3}:
        return "shell"
    if len(keys) > 2 and held >= {1, 3} and 0 not in held and not rooted:
        return f"rootless from {degrees[0]}"
    whole = len(keys) == len(held) and held in ({0, 1, 2}, {0, 1, 2, 3}) and None not in parts
    return _stacked(keys, parts[0] or 0) if whole else ""


def _stacked(keys: Sequence[int], lowest: int) -> str:
    """Return the name of a triad or seventh chord without doublings by its spacing, `lowest` its lowest part."""
    if keys[-1] - keys[0] < 12:
        return ("triad " if len(keys) == 3 else "close ") + _INVERSIONS[lowest]
    raised = sorted([*keys[1:], keys[0] + 12])
    drop2 = len(keys) == 4 and raised[2] == keys[0] + 12 and raised[3] - raised[0] < 12
    return "drop 2" if drop2 else ""


def _part(degree: str) -> int | None:
    return next((part for part, names in enumerate(_STACK) if degree in names), None)


def _hand(notes: Sequence[PlannedNote], rooted: bool) -> str:
    keys, degrees = [note.key for note in notes], [note.degree for note in notes]
    return f"{shape(keys, degrees, rooted)} {'-'.join(counted(keys, degrees))}".strip()


def counted(keys: Sequence[int], degrees: Degrees) -> list[str]:
    """Return the degrees as they are counted from a root at the bottom: the root above it is an octave, a third beyond
    that a tenth, as in 1-5-8 and 1-5-10 (common practice)."""
    if not degrees or degrees[0] != "1":
        return list(degrees)
    return [_above(degree, key - keys[0]) for key, degree in zip(keys, degrees, strict=True)]


def _above(degree: str, semitones: int) -> str:
    if degree == "1" and semitones == 12:
        return "8"
    return degree.replace("3", "10") if degree in ("3", "b3") and semitones > 12 else degree
