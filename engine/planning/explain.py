"""A shift explained: what each finger does and how far, what it costs, and the least that any could move."""

from collections.abc import Sequence

from engine.ear.voice_leading import with_doublings
from engine.hand.keyboard import span
from engine.planning.model import PlannedNote, PlannedStep
from engine.planning.move_words import distance, moves_in_words

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
    "tune": "the way through your tune",
    "lead": "walking line that does not lead into the next bass",
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
    "under": "chord in the left hand under your tune",
    "ending": "last chord without its bass below",
}
"""Term of the effort -> the same in words."""


SHIFT = ("travel", "strike", "landing", "lift", "refinger", "legato", "count")
"""The terms that the hands' way to a chord is made of; the others are how it stands and sounds."""

MOST_TERMS = 3
"""Terms of the effort that are said: the greatest."""


def explained(before: PlannedStep | None, step: PlannedStep, hardest: bool = False) -> list[str]:
    """Return lines that explain a step: each hand's moves, the motion of the right hand, what most of the effort is
    for, and last how far the hands go; `hardest` when no other step of the section asks for more."""
    lines = [f"{hand} hand: {moves_in_words(step, hand)}{_millimetres(notes)}" for hand, notes in _hands(step)]
    if before is not None and before.right and step.right:
        lines.append(_motion(before, step))
    terms = sorted(step.terms, key=lambda pair: (-pair[1], pair[0]))
    said = ", ".join(TERMS[name] for name, amount in terms[:MOST_TERMS] if amount >= 0.05)
    lines.append(f"effort {step.effort:.1f}, most of it: {said}" if said else f"effort {step.effort:.1f}")
    return [*lines, f"{_way(before, step)}{': hardest of this section' if hardest else ''}"] if before else lines


def hardest(steps: Sequence[PlannedStep]) -> set[int]:
    """Return the places of the shifts that ask most of the hands in their section, where it has easier ones; the way
    into a section counts for it."""
    ways = [sum(amount for name, amount in step.terms if name in SHIFT) for step in steps]
    section: dict[str, set[float]] = {}
    for step, way in list(zip(steps, ways, strict=True))[1:]:
        section.setdefault(step.step.section, set()).add(way)
    known = [section.get(step.step.section, {0.0}) for step in steps]
    return {place for place, way in enumerate(ways) if place and len(known[place]) > 1 and way == max(known[place])}


def _way(before: PlannedStep, step: PlannedStep) -> str:
    """Say how far the hand goes that goes farther: `the left hand crosses a fifth`."""
    ways = [
        (abs(_middle(now) - _middle(was)) if was and now else 0, hand)
        for (hand, now), (_, was) in zip(_hands(step), _hands(before), strict=True)
    ]
    far, hand = max(ways, key=lambda way: way[0])
    if far < 1:
        return "the hands stay where they are"
    return f"the {hand} hand {'crosses' if round(far) > 2 else 'goes'} {distance(round(far))}"


def _middle(notes: Sequence[PlannedNote]) -> float:
    """Return the middle of a hand's keys."""
    return sum(note.key for note in notes) / len(notes)


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
