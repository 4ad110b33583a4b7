"""Leading and following by the standard alone: which song, where in it, and the running time, over any MIDI connection.

A place in a song is counted in sixteenths from the start of the song as played, which MIDI calls a beat of the song
position. Two copies agree on it when they have the same set, whatever each shows.
Source: MIDI 1.0 Detailed Specification (MIDI Association), system common and system real-time messages: song position
F2 with two 7-bit bytes, low first; song select F3; timing clock F8, 24 a quarter; start FA, continue FB, stop FC. The
first clock after start, continue or a song position is the place itself.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor

from engine.performance.events import Timed, in_order
from engine.song.model import Step

POSITION, SELECT, CLOCK, START, CONTINUE, STOP = 0xF2, 0xF3, 0xF8, 0xFA, 0xFB, 0xFC
"""Status bytes: song position, song select, clock, start, continue, stop. Source: MIDI 1.0 Detailed Specification."""

CLOCKS, SIXTEENTHS = 24, 4
"""In a quarter note."""

LAST_POSITION, LAST_SONG = 0x3FFF, 0x7F
"""The greatest values that the messages can carry: 1024 bars of 4/4, 128 songs."""

AVERAGED = 24
"""Clocks over which the tempo is averaged: one quarter."""

LOST_AFTER = 0.5
"""Seconds without a clock after which a leader is taken to be gone; at tempo 20 one comes every eighth of one."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the leader is: `song` in the set (from 0) and `sixteenth` in the song, None while not known.

    `running` is None until a start, continue or stop has been heard: then a clock after a position means that it runs.
    `fresh` is True until the clock comes that is the place itself; `clocks` counts on from it; `times` are the moments
    of the last clocks, in seconds.
    """

    song: int | None = None
    sixteenth: int | None = None
    running: bool | None = None
    fresh: bool = True
    clocks: int = 0
    times: tuple[float, ...] = ()

    @property
    def tempo(self) -> float | None:
        """Quarters a minute, from the last clocks; None before there are enough."""
        if len(self.times) < 3 or self.times[-1] <= self.times[0]:
            return None
        return 60 / CLOCKS * (len(self.times) - 1) / (self.times[-1] - self.times[0])


def hear(place: Place, data: bytes, now: float) -> Place:
    """Return the place after one message that came at `now` (seconds); other messages change nothing."""
    match data[0] if data else 0:
        case kind if kind == SELECT and len(data) > 1:
            return place if place.song == data[1] else replace(place, song=data[1], sixteenth=0, fresh=True, clocks=0)
        case kind if kind == POSITION and len(data) > 2:
            return replace(place, sixteenth=data[1] | data[2] << 7, fresh=True, clocks=0)
        case kind if kind == START:
            return replace(place, sixteenth=0, running=True, fresh=True, clocks=0, times=())
        case kind if kind == CONTINUE:
            return replace(place, running=True, fresh=True, clocks=0, times=())
        case kind if kind == STOP:
            return replace(place, running=False, fresh=True, clocks=0, times=())
        case kind if kind == CLOCK:
            return _tick(place, now)
    return place


def lost(place: Place, now: float) -> bool:
    """True when a running leader has not been heard of for LOST_AFTER seconds."""
    return bool(place.running) and bool(place.times) and now - place.times[-1] > LOST_AFTER


def place_messages(song: int, sixteenth: int) -> tuple[bytes, bytes]:
    """Return the messages that take followers to a place; what the standard cannot carry is cut to its last value."""
    position = min(max(sixteenth, 0), LAST_POSITION)
    return bytes((SELECT, min(max(song, 0), LAST_SONG))), position_message(position)


def position_message(sixteenth: int) -> bytes:
    """Return the song position alone, cut to what the standard can carry."""
    position = min(max(sixteenth, 0), LAST_POSITION)
    return bytes((POSITION, position & 0x7F, position >> 7))


def step_positions(steps: Sequence[Step]) -> tuple[int, ...]:
    """Return the sixteenth on or before which each step starts."""
    return tuple(floor(SIXTEENTHS * quarters) for quarters in _quarters(steps))


def step_at(positions: Sequence[int], sixteenth: int) -> int:
    """Return the index of the step that sounds at a sixteenth: the last one that has begun, 0 before the first."""
    return max(bisect_right(positions, sixteenth) - 1, 0)


def lead_messages(
    steps: Sequence[Step], first: int, last: int, tempo: float, begin: float, song: int
) -> tuple[Timed, ...]:
    """Return what tells followers the song, the start, every step from `first` to `last`, the clock and the stop.

    The position is repeated at every step and the song at every section, so that a follower that joins late or loses
    the connection is right again soon. Source: own choice; other receivers ignore them while running (from memory).
    """
    positions = step_positions(steps)
    starts = _quarters(steps)
    signs: list[Timed] = [(0.0, message) for message in place_messages(song, positions[first])] if steps else []
    ticks: list[Timed] = []
    at = begin
    for index in range(first, min(last + 1, len(steps))):
        step = steps[index]
        again = place_messages(song, positions[index])
        signs += [(at, message) for message in (again if step.section_start and index > first else again[1:])]
        if index == first:
            signs.append((at, bytes((CONTINUE if positions[first] else START,))))
        quarter = step.beat_seconds(tempo) / float(step.meter.beat_quarters)
        length = step.beats * step.meter.beat_quarters
        begins = float(starts[index])
        for clock in range(ceil(starts[index] * CLOCKS), ceil((starts[index] + length) * CLOCKS)):
            ticks.append((max(at + (clock / CLOCKS - begins) * quarter, at), bytes((CLOCK,))))
        at += float(step.beats) * step.beat_seconds(tempo)
    return in_order(tuple(signs), tuple(ticks), ((at, bytes((STOP,))),)) if steps else ()


def _tick(place: Place, now: float) -> Place:
    times = (*place.times[-AVERAGED:], now)
    if place.running is False or place.sixteenth is None:
        return replace(place, times=times)
    if place.fresh:
        return replace(place, running=True, fresh=False, times=times)
    clocks = place.clocks + 1
    each = CLOCKS // SIXTEENTHS
    return replace(place, clocks=clocks % each, sixteenth=place.sixteenth + clocks // each, times=times)


def _quarters(steps: Sequence[Step]) -> list[Fraction]:
    """Return when each step starts, in quarters from the start of the song as played."""
    starts, at = [], Fraction(0)
    for step in steps:
        starts.append(at)
        at += step.beats * step.meter.beat_quarters
    return starts
