"""A left hand's pattern told with its plan: each stroke with its notes, fingers and moves; and what keeps it away."""

from dataclasses import replace
from fractions import Fraction

from engine.chord.model import Chord
from engine.hand.grip import Grip
from engine.hand.moves import PRESS, moves
from engine.planning.hand_states import Figure
from engine.planning.left_hand.slots import RINGING, Slot, asked_for, refused
from engine.planning.model import PlannedNote, PlannedStep, PlannedStroke, Request
from engine.song.model import Step
from engine.theory.key import read_key, spelled_in_key
from engine.theory.pitch import spelled
from engine.voicing.tones import degree_of


def struck(step: PlannedStep, figure: Figure, slots: tuple[Slot, ...]) -> PlannedStep:
    """Return a planned step with the strokes of its pattern."""
    assert step.step.chord is not None
    strokes = []
    hand, before = step.left, figure.first
    for number, (slot, (keys, grip)) in enumerate(zip(slots, figure.strokes, strict=True)):
        fresh = number == 0 or grip != before
        hand = hand_notes(step.step.chord, step.step.key, grip, before) if grip != before else hand
        struck_now = hand if fresh else tuple(replace(note, move=PRESS, left_from=None) for note in hand)
        until = _rings(figure, slots, number) if step.step.left_hand in RINGING else slot.until
        strokes.append(PlannedStroke(slot.place, until, tuple(note for note in struck_now if note.key in keys), hand))
        before = grip
    return replace(step, strokes=tuple(strokes))


def _rings(figure: Figure, slots: tuple[Slot, ...], number: int) -> Fraction:
    """Return until when a stroke sounds on: until the hand leaves its position."""
    grips = [grip for _, grip in figure.strokes]
    last = next((at for at in range(number, len(grips)) if grips[at] != grips[number]), len(grips)) - 1
    return slots[last].until


def hand_notes(chord: Chord | None, key: str, grip: Grip, before: Grip) -> tuple[PlannedNote, ...]:
    """Return a position of a hand that is reached from another one; without a chord its notes are named in the key."""
    found = []
    for move in moves(before, grip):
        name, degree = _named(chord, key, move.key)
        found.append(PlannedNote(move.key, name, degree, move.finger, move.kind, move.left_from))
    return tuple(found)


def _named(chord: Chord | None, key: str, note: int) -> tuple[str, str]:
    if chord is None:
        return spelled_in_key(note, read_key(key).signature if key else 0), ""
    tone = degree_of(chord, note % 12)
    return spelled(note, tone.name), tone.degree


def refusal(step: Step, request: Request) -> tuple[str, ...]:
    """Say at the head of a section why its left hand plays no pattern, though one is asked for."""
    why = refused(request) if asked_for(step) and step.section_start and step.pass_ == 1 else ""
    return (f"left_hand = {step.left_hand} is not played here: {why}",) if why else ()
