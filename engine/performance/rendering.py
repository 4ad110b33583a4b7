"""A count or a plan as notes, in seconds from the start: what is struck, what is held, what comes early."""

from dataclasses import replace

from engine.performance.comping import STOP_BEATS, Strike, Timing, strikes
from engine.performance.count_in import Click, count_seconds
from engine.performance.events import Note
from engine.performance.own_tune import below_tune, cut_by, tune_notes
from engine.performance.sound_settings import ACCENT, Touch, hand_of, voiced
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
    """Return a plan as it is played: in its rhythm, or with the keys that the plan holds kept down.

    A stop is cut short, a push comes early.

    Args:
        tempo: quarters a minute, dotted quarters in compound meters, as in a song file.
    """
    left, right = (hand_notes(plan, hand, tempo, feel, touch) for hand in ("left", "right"))
    return tuple(sorted(left + right))


def hand_notes(
    plan: Plan, hand: str, tempo: float, feel: str = "straight", touch: Touch | None = None
) -> tuple[Note, ...]:
    """Return what one hand (left or right) plays of a plan, see `plan_notes`."""
    touch = touch or Touch()
    whole = timing_of(plan.steps, tempo, feel, touch)
    timing = replace(whole, steps=below_tune(plan.steps))
    played: dict[int, list[Strike]] = {}
    for strike in strikes(timing, hand):
        played.setdefault(strike.step, []).append(strike)
    notes = _held_notes(timing, hand, touch, played)
    for index, found in played.items():
        notes += [note for strike in found for note in _struck(timing.steps[index], hand, strike, touch)]
    tune = tune_notes(whole, touch) if hand == "right" else []
    return tuple(sorted(cut_by(tune, notes) + tune))


def timing_of(steps: tuple[PlannedStep, ...], tempo: float, feel: str, touch: Touch) -> Timing:
    """Return the steps in time, from 0 seconds on."""
    starts = step_starts(steps, tempo, feel)
    ends = tuple(at + step_seconds(step, tempo) for step, (at, _) in zip(steps, starts, strict=True))
    return Timing(steps, starts, ends, tempo, feel, touch.rhythms)


def _held_notes(timing: Timing, hand: str, touch: Touch, played: dict[int, list[Strike]]) -> list[Note]:
    """Return the notes of the steps that are held, not played in strokes: a key that the plan keeps stays down."""
    notes: list[Note] = []
    down: dict[int, tuple[float, int]] = {}
    sounds_until = 0.0
    for index, (step, (_, starts)) in enumerate(zip(timing.steps, timing.starts, strict=True)):
        if timing.in_strokes(index, hand):
            first = min([starts, *(strike.seconds for strike in played.get(index, ()))])
            notes += [_held(key, down[key], min(sounds_until, first), touch.channel_of(hand)) for key in down]
            down, sounds_until = {}, 0.0
            continue
        release = min(sounds_until, starts)
        kept = _kept(step, hand) if release >= starts and not _again(step, touch) else frozenset()
        notes += [_held(key, down[key], release, touch.channel_of(hand)) for key in down if key not in kept]
        down = {
            note.key: down[note.key] if note.key in kept and note.key in down else (starts, _loudness(hand, touch))
            for note in hand_of(step, hand, touch)
        }
        ends, beat = timing.ends[index], _beat(step, timing.tempo)
        sounds_until = min(ends, starts + STOP_BEATS * beat) if step.step.mark == "stop" else ends
    return notes + [_held(key, struck, sounds_until, touch.channel_of(hand)) for key, struck in down.items()]


def _again(step: PlannedStep, touch: Touch) -> bool:
    """True where keys that are down are struck again, so that a sound that decays does not thin out."""
    return touch.restrike == "chord" or (touch.restrike == "bar" and step.step.beat == 1)


def _struck(step: PlannedStep, hand: str, strike: Strike, touch: Touch) -> list[Note]:
    """Return the notes of one stroke: the hand's keys, one of them in a broken chord, or those of a pattern."""
    keys = list(strike.keys) or [note.key for note in hand_of(step, hand, touch)]
    if strike.tone is not None and keys:
        turn = strike.tone % max(2 * len(keys) - 2, 1)
        keys = [keys[min(turn, 2 * len(keys) - 2 - turn)]]
    velocity = max(1, min(127, _loudness(hand, touch) + ACCENT * strike.accent))
    lasts = strike.ends - strike.seconds
    return [Note(strike.seconds, key, lasts, velocity, touch.channel_of(hand)) for key in keys] if lasts > 0 else []


def _loudness(hand: str, touch: Touch) -> int:
    return touch.left if hand == "left" else touch.right


def step_seconds(step: PlannedStep, tempo: float) -> float:
    """Return how long a step lasts as written."""
    return float(step.step.beats) * _beat(step, tempo)


def push_seconds(step: PlannedStep, tempo: float, feel: str) -> float:
    """Return how early a step comes: 0.0 unless its chord is pushed."""
    return float(step.step.meter.push(feel)) * _beat(step, tempo) if step.step.mark == "push" else 0.0


def _held(key: int, struck: tuple[float, int], until: float, channel: int) -> Note:
    since, velocity = struck
    return Note(since, key, max(until - since, 0.0), velocity, channel)


def _kept(step: PlannedStep, hand: str) -> frozenset[int]:
    notes: tuple[PlannedNote, ...] = step.left if hand == "left" else step.right
    return frozenset(note.key for note in notes if note.move in KEPT)


def _beat(step: PlannedStep, tempo: float) -> float:
    return step.step.beat_seconds(tempo)
