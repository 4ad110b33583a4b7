"""A shift explained: what each finger does and how far, what it costs, and the least that any could move."""

from engine.ear.voice_leading import with_doublings
from engine.hand.keyboard import span
from engine.planning.model import PlannedNote, PlannedStep
from engine.planning.move_words import moves_in_words

TERMS: dict[str, str] = {
    "travel": "arm and fingers on their way",
    "strike": "fingers that move",
    "landing": "free fingers put down",
    "lift": "fingers taken away",
    "refinger": "keys passed to another finger",
    "legato": "slides that break the legato",
    "leap": "leap of the top note",
    "voices": "notes away from their nearest",
    "jump": "top note leaps beyond a fourth",
    "count": "more or fewer keys in a hand",
    "change": "another texture",
    "leave": "the section's texture left",
    "pattern": "the left hand's way through its pattern",
    "grip": "how the hands lie",
    "mud": "too close, too low",
    "zone": "outside the hands' zone",
    "pull": "off the middle of the zone",
    "over": "not below the tune",
    "rub": "rubs against the tune",
    "doubling": "doubled third, seventh or altered tone",
    "ninth": "minor ninth between voices",
    "gap": "gap between the hands",
    "omission": "fifth left out",
    "bassist": "the bass player's root",
    "thin": "few notes",
    "plain": "no colour added",
    "line": "top note outside its region",
    "unasked": "tension that nobody asked for",
    "untold": "left to the tune",
    "ending": "last chord without its bass below",
}
"""Term of the effort -> the same in words."""


def explained(before: PlannedStep | None, step: PlannedStep) -> list[str]:
    """Return lines that explain a step: each hand's moves, the motion of the right hand, the terms of the effort."""
    lines = [f"{hand} hand: {moves_in_words(step, hand)}{_millimetres(notes)}" for hand, notes in _hands(step)]
    if before is not None and before.right and step.right:
        lines.append(_motion(before, step))
    terms = sorted(step.terms, key=lambda pair: (-pair[1], pair[0]))
    said = ", ".join(f"{TERMS[name]} {amount:.1f}" for name, amount in terms if amount >= 0.05)
    return [*lines, f"effort {step.effort:.1f}: {said}" if said else f"effort {step.effort:.1f}"]


def motion(before: PlannedStep, step: PlannedStep) -> tuple[int, int]:
    """Return (semitones that the right hand's notes move, the least that any voice leading takes).

    The least is Tymoczko's size between the two sets of pitch classes, see ear/voice_leading.
    """
    was, now = [note.key for note in before.right], [note.key for note in step.right]
    return _moved(was, now), with_doublings(was, now)


def _hands(step: PlannedStep) -> tuple[tuple[str, tuple[PlannedNote, ...]], ...]:
    return (("left", step.left), ("right", step.right))


def _moved(one: list[int], two: list[int]) -> int:
    """Return the semitones of the smallest way from keys to keys (ascending): none left out, no voice crosses."""
    row: list[int] = []
    for number, key in enumerate(one):
        above, row = row, []
        for place, other in enumerate(two):
            ways = [row[place - 1]] if place else []
            ways += ([above[place]] if number else []) + ([above[place - 1]] if number and place else [])
            row.append(abs(key - other) + min(ways, default=0))
    return row[-1]


def _motion(before: PlannedStep, step: PlannedStep) -> str:
    moved, least = motion(before, step)
    way = f"{moved} half step{'s' * (moved != 1)}"
    return f"right hand's notes move {way}, the least possible is {least} between these notes"


def _millimetres(notes: tuple[PlannedNote, ...]) -> str:
    """Say how far the sliding fingers go."""
    far = [
        f"{'thumb' if note.finger == 1 else note.finger} {abs(span(note.left_from, note.key)):.0f} mm"
        for note in notes
        if note.move in ("slide", "refinger") and note.left_from is not None
    ]
    return f" ({', '.join(far)})" if far else ""
