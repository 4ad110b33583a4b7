"""Another voicing in a chord's place, as it would look and move, for choosing before one is pinned."""

from dataclasses import replace

from engine.hand.grip import Grip
from engine.hand.moves import lifted, moves
from engine.planning.model import PlannedNote, PlannedStep
from engine.theory.pitch import spelled
from engine.voicing.tones import degree_of

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
        left=_notes(planned, from_left, to_left),
        right=_notes(planned, from_right, to_right),
        lifted_left=lifted(from_left, to_left),
        lifted_right=lifted(from_right, to_right),
        warnings=(),
        strokes=(),
        tune=(),
        tune_on_top=False,
    )


def _grip(notes: tuple[PlannedNote, ...]) -> Grip:
    return Grip(tuple(note.key for note in notes), tuple(note.finger for note in notes))


def _notes(planned: PlannedStep, before: Grip, after: Grip) -> tuple[PlannedNote, ...]:
    chord = planned.step.chord
    found = []
    for move in moves(before, after) if chord else ():
        tone = degree_of(chord, move.key % 12)
        found.append(
            PlannedNote(move.key, spelled(move.key, tone.name), tone.degree, move.finger, move.kind, move.left_from)
        )
    return tuple(found)
