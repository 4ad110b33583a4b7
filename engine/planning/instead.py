"""Another voicing in a chord's place, as it would look and move, for choosing before one is pinned."""

from dataclasses import replace

from engine.hand.grip import Grip
from engine.hand.moves import lifted
from engine.planning.left_hand.telling import hand_notes
from engine.planning.model import PlannedNote, PlannedStep

Hand = tuple[tuple[int, ...], tuple[int, ...]]
"""Keys (MIDI numbers, ascending) and their fingers."""


def instead(before: PlannedStep | None, planned: PlannedStep, left: Hand, right: Hand) -> PlannedStep:
    """Return a step with other keys and fingers, and what each finger does on the way from the step before it."""
    from_left, from_right = (
        (_grip(before.left_behind), _grip(before.right_behind)) if before else (_grip(()), _grip(()))
    )
    to_left, to_right = Grip(*left), Grip(*right)
    return replace(
        planned,
        left=hand_notes(planned.step.chord, planned.step.key, to_left, from_left),
        right=hand_notes(planned.step.chord, planned.step.key, to_right, from_right),
        lifted_left=lifted(from_left, to_left),
        lifted_right=lifted(from_right, to_right),
        warnings=(),
        strokes=(),
        tune=(),
        tune_on_top=False,
    )


def _grip(notes: tuple[PlannedNote, ...]) -> Grip:
    return Grip(tuple(note.key for note in notes), tuple(note.finger for note in notes))
