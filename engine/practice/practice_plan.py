"""Tonight's practice: minutes in, interleaved spots out.

Several spots of about three minutes take turns and come back, since what is spread out is better kept on the next day
though it feels worse. Source: Carter and Grahn, "Optimizing music learning: exploring how blocked and interleaved
practice schedules affect advanced performance", Frontiers in Psychology 7 (2016), clarinettists, three minutes a turn.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import chain

from engine.practice.log import Memory
from engine.practice.model import Meeting
from engine.practice.ranking import HardShift, Ranking
from engine.practice.tempo_ladder import first_tempo, sits

TURN = 3.0
"""Minutes a turn. Source: Carter and Grahn 2016, above."""
ROUNDS = 2
"""Times each spot comes at least, where there is time for two turns (own choice)."""
MOST_SPOTS = 6
"""Spots of one evening: more would come back too seldom (own choice)."""
PLAY, PAUSE = 24.0, 3.0
"""Minutes at the keyboard after which a pause is planned, and its length (own choice; breaks are common advice)."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A shift to practise, from one chord before to one chord after: `first` to `last` are steps of the plan of song
    number `song` in the ranked list. `tempo` is where the first try stands, `goal` the song's own."""

    hard: HardShift
    song: int
    first: int
    last: int
    tempo: float
    goal: float
    again: bool
    """True when it was practised before and a night lies between."""


@dataclass(frozen=True, slots=True)
class Turn:
    """Minutes from the start at which a turn begins and how long it lasts; no spot is a pause."""

    start: float
    minutes: float
    spot: Spot | None


@dataclass(frozen=True, slots=True)
class Evening:
    """The turns in order. `spots` are different shifts, in the order they first come."""

    turns: tuple[Turn, ...]

    @property
    def spots(self) -> tuple[Spot, ...]:
        """The different spots, in the order they first come."""
        return tuple(dict.fromkeys(turn.spot for turn in self.turns if turn.spot is not None))

    @property
    def minutes(self) -> float:
        """How long all turns last, pauses included."""
        return sum(turn.minutes for turn in self.turns)


def tonight(
    ranking: Ranking, memories: Mapping[str, Memory], minutes: float, now: datetime, lengths: tuple[int, ...] = ()
) -> Evening:
    """Return a plan of at most `minutes`.

    What was practised before last night comes first, then the hardest new shifts, then what already sits. `lengths`
    are the steps of each ranked song, so that the last chord has none after it (empty: not known).
    """
    pattern = _pattern(minutes)
    playing = sum(play for play, _ in pattern)
    chosen = _chosen(ranking, memories, now)[: _spots(playing)]
    if not chosen:
        return Evening(())
    spots = [_spot(hard, memories.get(hard.shift.sign), now, lengths) for hard in chosen]
    turns, at, place = [], 0.0, 0
    for play, pause in pattern:
        if play:
            turns.append(Turn(at, play, spots[place % len(spots)]))
            place += 1
        elif pause:
            turns.append(Turn(at, pause, None))
        at += play or pause
    return Evening(tuple(turns))


def _pattern(minutes: float) -> list[tuple[float, float]]:
    """Return (minutes of play, minutes of pause) in order; one of each pair is 0.0. What is left over is left."""
    if minutes < TURN:
        return [(minutes, 0.0)] if minutes > 0 else []
    pattern: list[tuple[float, float]] = []
    left, played = minutes, 0.0
    while left >= TURN:
        if played >= PLAY and left >= PAUSE + TURN:
            pattern.append((0.0, PAUSE))
            left, played = left - PAUSE, 0.0
        pattern.append((TURN, 0.0))
        left, played = left - TURN, played + TURN
    return pattern


def _spots(playing: float) -> int:
    """Return how many spots so much time has room for: each comes back at least once if there are two turns."""
    return max(1, min(MOST_SPOTS, int(playing / TURN / ROUNDS)))


def _chosen(ranking: Ranking, memories: Mapping[str, Memory], now: datetime) -> list[HardShift]:
    """Return the shifts in the order in which they deserve the evening; each group keeps the ranking's order."""
    again: list[HardShift] = []
    new: list[HardShift] = []
    seated: list[HardShift] = []
    for hard in ranking.shifts:
        memory = memories.get(hard.shift.sign)
        if sits(memory, hard.tightest.tempo, now):
            seated.append(hard)
        elif memory is not None:
            again.append(hard)
        else:
            new.append(hard)
    # What was begun this evening goes on being practised, after what a night has been over.
    again.sort(key=lambda hard: not memories[hard.shift.sign].due(now))
    return list(chain(again, new, seated))


def _spot(hard: HardShift, memory: Memory | None, now: datetime, lengths: tuple[int, ...]) -> Spot:
    place = hard.tightest
    first, last = bounds(place, lengths[place.song] if place.song < len(lengths) else None)
    return Spot(
        hard=hard,
        song=place.song,
        first=first,
        last=last,
        tempo=first_tempo(hard, memory, now),
        goal=place.tempo,
        again=memory is not None and memory.due(now),
    )


def bounds(place: Meeting, length: int | None = None) -> tuple[int, int]:
    """Return the first and last step of a spot: from one chord before the shift to one chord after, inside a song of
    `length` steps (None: not known). The seam of a vamp is practised with the whole vamp round it."""
    if place.seam:
        return place.index, place.before
    end = place.index + 1
    return max(place.before - 1, 0), end if length is None else min(end, length - 1)
