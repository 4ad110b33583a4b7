"""The count and the roadmap in time, as one performance for the clock: clicks, chords, marks, loops, tempo ladder.

Marks tell the screen where the music is: a beat for the light, a step for the stand. A vamp ("until" a cue) is a loop
that the player leaves; so is a stretch that is practised round and round.
"""

import math
from dataclasses import dataclass, field, replace
from fractions import Fraction

from engine.performance.count_in import Click, beat_strength, count_in, count_seconds
from engine.performance.events import Note, in_order, wire
from engine.performance.following import lead_messages
from engine.performance.rendering import click_note, count_in_notes, guide_notes, hand_notes, step_seconds, step_starts
from engine.performance.sound_settings import Touch, pedalled
from engine.performance.timeline import Loop, Mark, Performance
from engine.planning.model import Plan, PlannedStep
from engine.song.model import Song
from engine.song.section_tempo import tempo_of

GUIDES = ("none", "first", "step", "early")
"""What sounds besides the click: nothing, the first chord on the last beat of the count, every chord in its place, or
every chord (the first one too) one beat early and quiet, so that the player is the one who plays it."""

_Starts = tuple[tuple[float, float], ...]
"""For each step: when it is written and when it is struck, in seconds."""


@dataclass(frozen=True, slots=True)
class Ride:
    """How a song is played along: `guide` one of GUIDES; `click` goes on after the count; `first` to `last` (steps,
    both included, None the last) are played, round and round with `loop`, every other round by the player alone with
    `alternate`; `hand` (both, left or right) is what every chord in its place is sounded of; `lead` sends the time to
    copies that follow, `song_number` (from 0, as the set is written) tells them the song."""

    touch: Touch = field(default=Touch())
    guide: str = "step"
    click: bool = True
    counted: bool = True
    first: int = 0
    last: int | None = None
    loop: bool = False
    alternate: bool = False
    hand: str = "both"
    lead: bool = False
    song_number: int = 0


def count_performance(song: Song, plan: Plan, ride: Ride | None = None) -> Performance:
    """Return the count alone, with the chord at `ride.first` as a guide on its last beat unless the guide is none."""
    ride = ride or Ride(guide="first")
    clicks = _clicks(song, plan, ride)
    guide = plan.steps[ride.first] if ride.guide != "none" and plan.steps else None
    messages = wire(count_in_notes(clicks, guide, ride.touch))
    return Performance(messages, _count_marks(clicks), (), count_seconds(clicks))


def play_along(song: Song, plan: Plan, ride: Ride | None = None) -> Performance:
    """Return the count and the plan's steps in time at the song's tempo.

    Raises:
        ValueError: a guide that is not in GUIDES, or steps that the plan does not have.
    """
    ride = ride or Ride()
    if ride.loop and ride.alternate:
        return _alternating(song, plan, ride)
    steps = _ridden(plan, ride)
    clicks = _clicks(song, plan, ride)
    begin = count_seconds(clicks)
    end = begin + sum(step_seconds(step, song.tempo) for step in steps)
    starts = step_starts(steps, song.tempo, song.feel)
    notes = _count_notes(clicks, steps, ride) + _time_notes(steps, starts, song, ride, begin)
    if ride.guide == "step":
        sounding = Plan(steps, 0.0, 0.0, False)
        for hand in ("left", "right") if ride.hand == "both" else (ride.hand,):
            notes += [_later(note, begin) for note in hand_notes(sounding, hand, song.tempo, song.feel, ride.touch)]
    elif ride.guide == "early":
        notes += _early(steps, starts, song.tempo, ride, begin)
    streams = [wire(tuple(notes))]
    if (
        ride.guide == "step"
        and ride.touch.pedal
        and not any(step.step.comp or step.strokes or step.tune for step in steps)
    ):
        streams.append(pedalled(tuple(begin + struck for _, struck in starts), end, ride.touch))
    if ride.lead:
        whole = tuple(step.step for step in plan.steps)
        last = ride.first + len(steps) - 1
        streams.append(lead_messages(whole, ride.first, last, song.tempo, begin, ride.song_number))
    marks = _count_marks(clicks) + _music_marks(steps, starts, song.tempo, begin)
    loops = ((Loop(begin, end),) if end > begin else ()) if ride.loop else _vamps(steps, starts, begin, end)
    return Performance(in_order(*streams), marks, loops, end)


def _alternating(song: Song, plan: Plan, ride: Ride) -> Performance:
    """Return the ridden steps with what is sounded, then without, round and round: first you hear it, then you play."""
    first = play_along(song, plan, replace(ride, alternate=False, loop=False))
    alone = replace(ride, alternate=False, loop=False, guide="none", counted=False, lead=False)
    both = then(first, play_along(song, plan, alone))
    begin = first.seconds - play_along(song, plan, alone).seconds
    return replace(both, loops=(Loop(begin, both.seconds),) if both.seconds > begin else ())


def climb(song: Song, plan: Plan, tempos: tuple[float, ...], ride: Ride | None = None) -> Performance:
    """Return the ridden steps once at each tempo, each time counted in, with a mark of kind rung where one begins."""
    ride = replace(ride or Ride(), loop=False)
    whole = Performance()
    for rung, tempo in enumerate(tempos):
        turn = play_along(replace(song, tempo=tempo), plan, ride)
        turn = replace(turn, marks=(Mark(0.0, "rung", rung), *turn.marks), loops=())
        whole = then(whole, turn)
    return whole


def then(first: Performance, second: Performance) -> Performance:
    """Return two performances one after the other."""
    gap = first.seconds
    return Performance(
        first.messages + tuple((gap + seconds, data) for seconds, data in second.messages),
        first.marks + tuple(replace(mark, seconds=gap + mark.seconds) for mark in second.marks),
        first.loops + tuple(Loop(gap + loop.start, gap + loop.end) for loop in second.loops),
        gap + second.seconds,
    )


def beats_to_bar(steps: tuple[PlannedStep, ...]) -> Fraction:
    """Return the beats from the first step to the next bar line, 0 when it starts a bar: the count leaves them out."""
    if not steps:
        return Fraction(0)
    first = steps[0].step
    if first.bar == 0:
        return sum((step.step.beats for step in _leading_pickup(steps)), Fraction(0))
    return (1 - first.beat) % first.meter.beats


def _leading_pickup(steps: tuple[PlannedStep, ...]) -> tuple[PlannedStep, ...]:
    after = next((index for index, step in enumerate(steps) if step.step.bar != 0), len(steps))
    return steps[:after]


def _ridden(plan: Plan, ride: Ride) -> tuple[PlannedStep, ...]:
    last = len(plan.steps) - 1 if ride.last is None else ride.last
    if ride.guide not in GUIDES:
        raise ValueError(f"guide {ride.guide!r}: say one of {', '.join(GUIDES)}")
    if plan.steps and not 0 <= ride.first <= last < len(plan.steps):
        raise ValueError(f"no steps {ride.first} to {last} in a plan of {len(plan.steps)}")
    return plan.steps[ride.first : last + 1]


def _clicks(song: Song, plan: Plan, ride: Ride) -> tuple[Click, ...]:
    steps = plan.steps[ride.first :]
    if not ride.counted or not steps:
        return ()
    return count_in(steps[0].step.meter, tempo_of(song, steps[0].step), song.feel, song.count, beats_to_bar(steps))


def _count_notes(clicks: tuple[Click, ...], steps: tuple[PlannedStep, ...], ride: Ride) -> list[Note]:
    guide = steps[0] if steps and ride.guide in ("first", "early") else None
    return list(count_in_notes(clicks, guide, ride.touch))


def _time_notes(steps: tuple[PlannedStep, ...], starts: _Starts, song: Song, ride: Ride, begin: float) -> list[Note]:
    """Return the click that goes on through the music."""
    if not ride.click:
        return []
    return [click_note(begin + at, strength) for at, strength in _beats(steps, starts, song.tempo)]


def _early(steps: tuple[PlannedStep, ...], starts: _Starts, tempo: float, ride: Ride, begin: float) -> list[Note]:
    """Return every chord but the first, which the count has announced, one beat early and until its change."""
    notes: list[Note] = []
    for step, (_, struck) in list(zip(steps, starts, strict=True))[1:]:
        at = max(struck - step.step.beat_seconds(tempo), 0.0)
        notes += guide_notes(step, begin + at, struck - at, ride.touch)
    return notes


def _later(note: Note, seconds: float) -> Note:
    return replace(note, seconds=note.seconds + seconds)


def _beats(steps: tuple[PlannedStep, ...], starts: _Starts, tempo: float) -> list[tuple[float, int]]:
    """Return (seconds, strength) of every beat of the steps."""
    beats: list[tuple[float, int]] = []
    for planned, (at, _) in zip(steps, starts, strict=True):
        step = planned.step
        place = step.beat - 1
        for beat in range(math.ceil(place), math.ceil(place + step.beats)):
            since = float(beat - place) * step.beat_seconds(tempo)
            beats.append((at + since, beat_strength(Fraction(beat % step.meter.beats), step.meter)))
    return beats


def _count_marks(clicks: tuple[Click, ...]) -> tuple[Mark, ...]:
    return tuple(Mark(click.seconds, "beat", click.strength) for click in clicks)


def _music_marks(steps: tuple[PlannedStep, ...], starts: _Starts, tempo: float, begin: float) -> tuple[Mark, ...]:
    marks = [Mark(begin + at, "beat", strength) for at, strength in _beats(steps, starts, tempo)]
    marks += [Mark(begin + at, "step", step.step.index) for step, (at, _) in zip(steps, starts, strict=True)]
    return tuple(sorted(marks, key=lambda mark: (mark.seconds, mark.kind != "step")))


def _vamps(steps: tuple[PlannedStep, ...], starts: _Starts, begin: float, end: float) -> tuple[Loop, ...]:
    """Return a loop for every vamp.

    A pushed chord at the front of the vamp, or of what follows it, is struck before its bar line: the loop lies that
    much earlier, so that the push belongs to the pass in which it is heard.
    """
    loops: list[Loop] = []
    index = 0
    while index < len(steps):
        after = index + _vamp_steps(steps, index)
        if steps[index].step.until:
            leaves = starts[after] if after < len(steps) else (end - begin, end - begin)
            early = max(starts[index][0] - starts[index][1], leaves[0] - leaves[1])
            loops.append(Loop(begin + (starts[index][0] - early), begin + (leaves[0] - early)))
        index = after
    return tuple(loops)


def _vamp_steps(steps: tuple[PlannedStep, ...], index: int) -> int:
    """Return how many steps from `index` on belong to the same pass of the same section."""
    first = steps[index].step
    length = 1
    while index + length < len(steps):
        step = steps[index + length].step
        if step.section_start or (step.section, step.pass_) != (first.section, first.pass_):
            break
        length += 1
    return length
