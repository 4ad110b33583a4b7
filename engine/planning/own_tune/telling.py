"""The player's own tune told with its plan: each note that begins over a chord, with its finger and its move."""

from dataclasses import replace

from engine.hand.moves import HOLD, PRESS
from engine.planning.hand_states import Figure
from engine.planning.left_hand.telling import hand_notes
from engine.planning.model import PlannedNote, PlannedStep, PlannedStroke
from engine.planning.own_tune.wanted import begun
from engine.planning.voicing_costs import Ask
from engine.song.model import TuneNote
from engine.theory.pulses import in_pulses, pulses

PINNED_OFF = "the pin has another note on top than the tune: the tune's own is not played here"


def with_tune(step: PlannedStep, figure: Figure | None, ask: Ask, notes: tuple[TuneNote, ...]) -> PlannedStep:
    """Return a planned step with the notes of the tune that begin over it, as far as they are played: `figure` is the
    right hand's way through those after the chord's own, `notes` what the tune has over it."""
    on_top = bool(ask.own and step.right and step.right[-1].key == ask.own.note)
    own = begun(notes, step.step.beats)
    first = next((note for note in own if note.onset == 0 and on_top and note.note == step.right[-1].key), None)
    tune = [_stroke(step, first, step.right)] if first else []
    if figure:
        after = [note for note in own if note.onset > 0]
        tune += [_stroke(step, *one) for one in zip(after, _hands(step, figure), strict=True)]
    lost = ask.own is not None and not on_top and bool(step.keys)
    warnings = step.warnings + ((PINNED_OFF,) if lost else ())
    return replace(step, tune=tuple(tune), tune_on_top=on_top, warnings=warnings)


def _hands(step: PlannedStep, figure: Figure) -> list[tuple[PlannedNote, ...]]:
    """Return the position of the hand at each note after the chord."""
    before, found = figure.first, []
    for _, grip in figure.strokes[1:]:
        hand = hand_notes(step.step.chord, step.step.key, grip, before)
        *under, struck = hand
        # A key that is down already is struck again.
        struck = replace(struck, move=PRESS, left_from=None) if struck.move == HOLD else struck
        found.append((*under, struck))
        before = grip
    return found


def _stroke(step: PlannedStep, note: TuneNote, hand: tuple[PlannedNote, ...]) -> PlannedStroke:
    parts, begin = pulses(step.step.meter), step.step.beat - 1 + note.onset
    return PlannedStroke(in_pulses(begin, parts), in_pulses(begin + note.length, parts), hand[-1:], hand)
