"""How long after a click its answer comes in, measured once with a row of clicks that the player answers.

The way from the click to the ear, from the key to us and the player's own habit come in one figure: people who tap to
a click are some hundredths of a second early on average (Repp 2005, Sensorimotor synchronization, Psychonomic Bulletin
& Review 12; from memory). How late a hand comes is counted from there.
"""

from dataclasses import dataclass
from statistics import median

from engine.performance.events import wire
from engine.performance.rendering import click_note
from engine.performance.timeline import Mark, Performance

CLICKS, APART = 8, 0.6
"""Clicks, and seconds between two: a hundred a minute, a tempo that is easy to follow (common practice)."""

SETTLING_IN = 2
"""Clicks at the start that nobody is expected to hit."""

LEAST = 4
"""Answers without which nothing is measured."""

NEAR = APART / 2
"""Seconds from a click within which a key answers it."""

EVEN = 0.04
"""Seconds from the middle one within which at least half of the answers lie. Source: own choice; taps of untrained
players scatter by some 20 to 40 ms at this tempo (from memory)."""


@dataclass(frozen=True, slots=True)
class Latency:
    """The middle answer came `seconds` after its click, half of them within `scatter` seconds of it."""

    seconds: float
    scatter: float

    @property
    def even(self) -> bool:
        """True when the answers lie near enough to each other to count."""
        return self.scatter <= EVEN


def latency_clicks() -> Performance:
    """Return the clicks, a mark of kind beat at each and one of kind end a beat after the last."""
    at = [number * APART for number in range(CLICKS)]
    notes = tuple(click_note(seconds, 2) for seconds in at)
    # The last click may be answered too.
    marks = (*(Mark(seconds, "beat", 2) for seconds in at), Mark(CLICKS * APART, "end"))
    return Performance(wire(notes), marks, (), CLICKS * APART)


def measured(clicks: tuple[float, ...], struck: tuple[float, ...]) -> Latency | None:
    """Return what lies between clicks and the keys struck for them (seconds of one clock).

    None when too few are answered.
    """
    late = []
    for click in clicks[SETTLING_IN:]:
        answers = [at - click for at in struck if abs(at - click) < NEAR]
        if answers:
            late.append(min(answers, key=abs))
    if len(late) < LEAST:
        return None
    middle = median(late)
    return Latency(middle, median(abs(one - middle) for one in late))
