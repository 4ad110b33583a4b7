"""A count or a plan as notes, in seconds from the start: what is struck, what is held, what comes early."""

from engine.performance.count_in import Click, count_seconds
from engine.performance.events import Note
from engine.performance.sound_settings import Touch, voiced
from engine.planning.model import Plan, PlannedNote, PlannedStep

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

STOP_BEATS = 0.5
"""A stopped chord sounds this part of a beat. Source: common practice."""

KEPT = frozenset({"hold", "refinger"})
"""Moves that leave a key down."""


def click_note(seconds: float, strength: int, lasts: float = CLICK_SECONDS) -> Note:
    """Return one click of the count or of the time going on."""
    key, velocity = CLICK_VOICE[strength]
    return Note(seconds, key, min(CLICK_SECONDS, lasts), velocity, PERCUSSION)


def count_in_notes(
    clicks: tuple[Click, ...], first: PlannedStep | None = None, touch: Touch | None = None
) -> tuple[Note, ...]:
    """Return the clicks on the percussion channel and, on the last beat, the first chord's voicing as a guide."""
    notes = [click_note(click.seconds, click.strength, click.lasts) for click in clicks]
    beats = [click for click in clicks if click.strength > 0]
    if first is not None and beats:
        at = beats[-1].seconds
        notes += guide_notes(first, at, count_seconds(clicks) - at, touch or Touch())
    return tuple(sorted(notes))


def guide_notes(step: PlannedStep, at: float, lasts: float, touch: Touch) -> list[Note]:
    """Return a step's voicing as a quiet guide."""
    return [Note(at, key, lasts, velocity, touch.channel) for key, velocity in voiced(step, touch, guide=True)]


def step_starts(
    steps: tuple[PlannedStep, ...], tempo: float, feel: str = "straight"
) -> tuple[tuple[float, float], ...]:
    """Return for each step (when it is written, when it is struck): a push comes early, but never before the start.

    Args:
        tempo: quarters a minute, dotted quarters in compound meters, as in a song file.
    """
    starts: list[tuple[float, float]] = []
    at = 0.0
    for step in steps:
        # The first chord has nothing to anticipate: the count has just ended.
        starts.append((at, max(at - push_seconds(step, tempo, feel), 0.0) if starts else at))
        at += step_seconds(step, tempo)
    return tuple(starts)


def plan_notes(plan: Plan, tempo: float, feel: str = "straight", touch: Touch | None = None) -> tuple[Note, ...]:
    """Return a plan as it is played: keys that the plan holds stay down, a stop is cut short, a push comes early.

    Args:
        tempo: quarters a minute, dotted quarters in compound meters, as in a song file.
    """
    touch = touch or Touch()
    notes: list[Note] = []
    down: dict[int, tuple[float, int]] = {}
    sounds_until = 0.0
    for step, (at, starts) in zip(plan.steps, step_starts(plan.steps, tempo, feel), strict=True):
        release = min(sounds_until, starts)
        kept = _kept(step) if touch.held and release >= starts else frozenset()
        notes += [_held(key, down[key], release, touch) for key in down if key not in kept]
        down = {
            key: down[key] if key in kept and key in down else (starts, velocity)
            for key, velocity in voiced(step, touch)
        }
        ends = at + step_seconds(step, tempo)
        sounds_until = min(ends, starts + STOP_BEATS * _beat(step, tempo)) if step.step.mark == "stop" else ends
    notes += [_held(key, struck, sounds_until, touch) for key, struck in down.items()]
    return tuple(sorted(notes))


def step_seconds(step: PlannedStep, tempo: float) -> float:
    """Return how long a step lasts as written."""
    return float(step.step.beats) * _beat(step, tempo)


def push_seconds(step: PlannedStep, tempo: float, feel: str) -> float:
    """Return how early a step comes: 0.0 unless its chord is pushed."""
    return float(step.step.meter.push(feel)) * _beat(step, tempo) if step.step.mark == "push" else 0.0


def _held(key: int, struck: tuple[float, int], until: float, touch: Touch) -> Note:
    since, velocity = struck
    return Note(since, key, max(until - since, 0.0), velocity, touch.channel)


def _kept(step: PlannedStep) -> frozenset[int]:
    hands: tuple[PlannedNote, ...] = step.left + step.right
    return frozenset(note.key for note in hands if note.move in KEPT)


def _beat(step: PlannedStep, tempo: float) -> float:
    return step.step.beat_seconds(tempo)
