"""A count or a plan as notes to be sent, in seconds from the start.

The `..._notes` functions give notes, the `render_...` functions the same as MIDI bytes, ready for the clock.
"""

from engine.perform.count_in import Click, count_seconds
from engine.perform.events import Note, Timed, wire
from engine.plan.model import Plan, PlannedNote, PlannedStep

PERCUSSION = 10
"""The percussion channel. Source: General MIDI System Level 1 (MIDI Manufacturers Association, 1991)."""

SIDE_STICK, CLAVES = 37, 75
"""Percussion keys. Source: General MIDI System Level 1, percussion key map."""

CLICK_VOICE: dict[int, tuple[int, int]] = {
    3: (CLAVES, 120), 2: (CLAVES, 92), 1: (SIDE_STICK, 104), 0: (SIDE_STICK, 48),
}  # fmt: skip
"""Strength of a click -> (key, velocity): high and loud on one, low on the others. Source: common practice."""

CLICK_SECONDS = 0.05
"""Percussion ignores the length; it only parts the note-off from the note-on."""

GUIDE_VELOCITY, CHORD_VELOCITY = 52, 76
"""The guide chord is softer than the click and the playing. Source: common practice."""

STOP_BEATS = 0.5
"""A stopped chord sounds this part of a beat. Source: common practice."""

KEPT = frozenset({"hold", "refinger"})
"""Moves that leave a key down."""


def count_in_notes(clicks: tuple[Click, ...], first: PlannedStep | None = None, channel: int = 1) -> tuple[Note, ...]:
    """Return the clicks on the percussion channel and, on the last beat, the first chord's voicing as a guide."""
    notes = [_click_note(click) for click in clicks]
    beats = [click for click in clicks if click.strength > 0]
    if first is not None and beats:
        at = beats[-1].seconds
        lasts = count_seconds(clicks) - at
        notes += [Note(at, key, lasts, GUIDE_VELOCITY, channel) for key in first.keys]
    return tuple(sorted(notes))


def plan_notes(plan: Plan, tempo: float, feel: str = "straight", channel: int = 1) -> tuple[Note, ...]:
    """Return a plan as it is played: keys that the plan holds stay down, a stop is cut short, a push comes early.

    Args:
        tempo: quarters a minute, dotted quarters in compound meters, as in a song file.
    """
    notes: list[Note] = []
    down: dict[int, float] = {}
    at, sounds_until = 0.0, 0.0
    for index, step in enumerate(plan.steps):
        starts = max(at - _push_seconds(step, tempo, feel), 0.0) if index else at
        release = min(sounds_until, starts)
        kept = _kept(step) if release >= starts else frozenset()
        notes += [_held(key, since, release, channel) for key, since in down.items() if key not in kept]
        down = {key: down[key] if key in kept and key in down else starts for key in step.keys}
        at += _seconds(step, tempo)
        sounds_until = min(at, starts + STOP_BEATS * _beat(step, tempo)) if step.step.mark == "stop" else at
    notes += [_held(key, since, sounds_until, channel) for key, since in down.items()]
    return tuple(sorted(notes))


def step_notes(step: PlannedStep, tempo: float, channel: int = 1) -> tuple[Note, ...]:
    """Return one step alone, from its first moment, for its written length."""
    lasts = STOP_BEATS * _beat(step, tempo) if step.step.mark == "stop" else _seconds(step, tempo)
    return tuple(Note(0.0, key, lasts, CHORD_VELOCITY, channel) for key in step.keys)


def render_count_in(clicks: tuple[Click, ...], first: PlannedStep | None = None, channel: int = 1) -> tuple[Timed, ...]:
    """Return `count_in_notes` as messages."""
    return wire(count_in_notes(clicks, first, channel))


def render_plan(plan: Plan, tempo: float, feel: str = "straight", channel: int = 1) -> tuple[Timed, ...]:
    """Return `plan_notes` as messages."""
    return wire(plan_notes(plan, tempo, feel, channel))


def render_step(step: PlannedStep, tempo: float, channel: int = 1) -> tuple[Timed, ...]:
    """Return `step_notes` as messages."""
    return wire(step_notes(step, tempo, channel))


def _click_note(click: Click) -> Note:
    key, velocity = CLICK_VOICE[click.strength]
    return Note(click.seconds, key, min(CLICK_SECONDS, click.lasts), velocity, PERCUSSION)


def _held(key: int, since: float, until: float, channel: int) -> Note:
    return Note(since, key, max(until - since, 0.0), CHORD_VELOCITY, channel)


def _kept(step: PlannedStep) -> frozenset[int]:
    hands: tuple[PlannedNote, ...] = step.left + step.right
    return frozenset(note.key for note in hands if note.move in KEPT)


def _beat(step: PlannedStep, tempo: float) -> float:
    return step.step.meter.beat_seconds(tempo)


def _seconds(step: PlannedStep, tempo: float) -> float:
    return float(step.step.beats) * _beat(step, tempo)


def _push_seconds(step: PlannedStep, tempo: float, feel: str) -> float:
    """Return how early a pushed chord comes: an eighth, in swing the last third of the beat."""
    if step.step.mark != "push":
        return 0.0
    eighth = 1 / (3 if step.step.meter.compound or feel == "swing" else 2 * float(step.step.meter.beat_quarters))
    return eighth * _beat(step, tempo)
