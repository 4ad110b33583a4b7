"""The tempo ladder: a notch up after a clean try, a notch down after a stop, a notch lower the next day.

Source: common practice of spot work, "take the tempo at which it is perfect and raise it one notch (60 to 63) after
each perfect try; begin the next day a notch lower".
"""

from datetime import datetime

from engine.practice.difficulty import starting_tempo
from engine.practice.log import Memory
from engine.practice.ranking import HardShift
from engine.song.section_tempo import SLOWEST

DONE = 3
"""Clean tries running, at the song's tempo, that put the spot back into its song. Source: common practice."""


def notch(tempo: float) -> float:
    """Return a notch in beats a minute: 3 below 72, 4 from there on, as a metronome's marks lie there."""
    return 3.0 if tempo < 72 else 4.0


def after_clean(tempo: float, goal: float) -> float:
    """Return the next tempo after a clean try: a notch up, the goal at most."""
    return max(min(tempo + notch(tempo), goal), SLOWEST) if tempo < goal else max(goal, SLOWEST)


def after_stop(tempo: float) -> float:
    """Return the next tempo after a stop: the notch down that a clean try would take up again."""
    lower = tempo - 4 if tempo - 4 >= 72 else tempo - 3
    return max(lower, SLOWEST)


def first_tempo(hard: HardShift, memory: Memory | None, now: datetime) -> float:
    """Return the tempo at which a spot begins: where the last try left it today, a notch under the last evening's best
    after a night, else where half the time is enough; the song's own tempo at most."""
    goal = hard.tightest.tempo
    start = max(starting_tempo(hard.needs, hard.tightest.available, goal), SLOWEST)
    if memory is None:
        return min(start, goal)
    if not memory.due(now):
        return next_tempo(memory, goal)
    kept = memory.kept(now)
    # After an evening without a clean try what was too fast then is too fast now.
    begin = after_stop(kept) if kept else min(start, after_stop(memory.tempo))
    return min(begin, goal)


def next_tempo(memory: Memory, goal: float) -> float:
    """Return the tempo of the next try after the last one; the goal at most."""
    return after_clean(memory.tempo, goal) if memory.streak else min(after_stop(memory.tempo), goal)


def done(memory: Memory | None, goal: float) -> bool:
    """True when the shift came clean three times running at its song's tempo."""
    return memory is not None and memory.tempo >= goal and memory.streak >= DONE


def sits(memory: Memory | None, goal: float, now: datetime) -> bool:
    """True when nothing is left to do this evening: done a moment ago, or clean at the song's tempo on two evenings."""
    if memory is None:
        return False
    evenings = sum(best >= goal for _, best, _ in memory.evenings)
    return evenings >= 2 or (done(memory, goal) and not memory.due(now))


def rungs(tempo: float, goal: float) -> tuple[float, ...]:
    """Return the tempos from here to the goal, both included."""
    ladder = [min(tempo, goal)]
    while ladder[-1] < goal:
        ladder.append(after_clean(ladder[-1], goal))
    return tuple(ladder)


def equal_rungs(goal: float, start: float = 0.6, rungs: int = 5) -> tuple[float, ...]:
    """Return the few tempos of a climb without a stop: from `start` (a part of the goal) up to it in equal steps, all
    but the goal in whole beats a minute.

    Source: own choice; the notches of spot work would make a climb of a dozen turns.
    """
    lower = (float(round(goal * (start + (1 - start) * rung / (rungs - 1)))) for rung in range(rungs - 1))
    return (*lower, goal)
