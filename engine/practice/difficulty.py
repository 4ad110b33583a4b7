"""How hard a shift is in time: the seconds the hands need against the seconds the song gives them.

Shifts are compared with each other, and a song's tempos with each other; nobody's hands are measured. The aiming is
published, the rest of the table is our own choice and says so.
"""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from statistics import median

from engine.hand.fitts import bits
from engine.hand.grip import LEFT, RIGHT, Grip, finger_places
from engine.hand.keyboard import UNIT, WHITE, black
from engine.hand.moves import HOLD, REFINGER, moves
from engine.practice.model import Shift
from engine.song.model import Step


@dataclass(frozen=True, slots=True)
class Constant:
    """`value` in `unit`; `source` names whose figure it is, or "own choice"."""

    value: float
    unit: str
    source: str


FITTS = (
    'Fitts, "The information capacity of the human motor system in controlling the amplitude of movement", Journal of '
    "Experimental Psychology 47 (1954), table 1, stylus of 1 oz; line fitted by MacKenzie, Human-Computer Interaction "
    "7 (1992)"
)
OWN = "own choice"

TABLE: dict[str, Constant] = {
    "start": Constant(0.0128, "seconds, once a hand moves", FITTS),
    "aim": Constant(0.0947, "seconds a bit of aiming: log2 of twice the way over the key's width", FITTS),
    "see": Constant(0.25, "seconds to read a symbol and remember its shape, by the share of the fingers that act", OWN),
    "re-form": Constant(0.06, "seconds a finger that goes another way than the hand", OWN),
    "land": Constant(0.03, "seconds a finger that was free and comes down", OWN),
    "cross": Constant(0.08, "seconds a key that passes from one finger to another", OWN),
    "second hand": Constant(0.25, "of the quicker hand's time, added to the slower one's: eyes serve one hand", OWN),
    "white": Constant(WHITE, "millimetres a finger aims at on a white key", "see hand/keyboard"),
    "black": Constant(10.0, "millimetres a finger aims at on a black key", "usual modern piano, from memory"),
}
"""Everything a shift's time is made of. Two hands that aim at different targets arrive together, at about the time of
the harder one: Kelso, Southard and Goodman, "On the nature of human interlimb coordination", Science 203 (1979)."""

COMFORT = 0.5
"""Needed over available up to which a shift is a place to begin practising at (own choice)."""


@dataclass(frozen=True, slots=True)
class HandTime:
    """The seconds one hand needs, in its parts, and the way of its farthest finger in millimetres."""

    aim: float = 0.0
    reform: float = 0.0
    land: float = 0.0
    cross: float = 0.0
    farthest: float = 0.0

    @property
    def seconds(self) -> float:
        """All parts together; `farthest` is no time."""
        return self.aim + self.reform + self.land + self.cross


def needed(shift: Shift, read: bool = True) -> float:
    """Return the seconds a shift needs; 0.0 when no finger has anything to do. `read`: another symbol is to be seen."""
    times = hand_times(shift)
    slower, quicker = max(hand.seconds for hand in times), min(hand.seconds for hand in times)
    if slower == 0:
        return 0.0
    seen = _of("see") * _acting(shift) if read else 0.0
    return seen + slower + _of("second hand") * quicker


def _acting(shift: Shift) -> float:
    """Return the share of the fingers of both hands' next grips that have something to do: of a chord of which all
    but one note stays, one note must be thought of."""
    done = [move for before, after in zip(shift.before, shift.after, strict=True) for move in moves(before, after)]
    return sum(move.kind != HOLD for move in done) / len(done)


def hand_times(shift: Shift) -> tuple[HandTime, HandTime]:
    """Return what the left and the right hand need."""
    return (
        hand_time(shift.before[0], shift.after[0], LEFT),
        hand_time(shift.before[1], shift.after[1], RIGHT),
    )


@lru_cache(maxsize=16384)
def hand_time(before: Grip, after: Grip, hand: str) -> HandTime:
    """Return the time one hand needs from grip to grip.

    A hand that rested is anywhere: it needs no more than to come down. A hand that only lifts needs nothing.
    """
    done = moves(before, after)
    busy = [move for move in done if move.kind != HOLD]
    if not busy:
        return HandTime()
    landing = _of("land") * sum(move.left_from is None for move in busy)
    if not before.keys:
        return HandTime(aim=_of("start"), land=landing)
    start = finger_places(before, hand)
    end = finger_places(after, hand)
    ways = {move.finger: end[move.finger - 1] - start[move.finger - 1] for move in done}
    arm = median(ways.values())
    # Where the hand stays, the aim is that of a finger that goes: only others beside it re-form the hand.
    apart = sum(abs(ways[move.finger] - arm) > UNIT for move in busy)
    return HandTime(
        aim=_of("start") + _of("aim") * max(bits(abs(ways[move.finger]), _width(move.key)) for move in busy),
        reform=_of("re-form") * max(0, apart - (abs(arm) <= UNIT)),
        land=landing,
        cross=_of("cross") * sum(move.kind == REFINGER for move in busy),
        farthest=max(abs(ways[move.finger]) for move in busy),
    )


def _width(key: int) -> float:
    """Return the millimetres a finger aims at on a key (MIDI number): on a black one the aim is the harder one."""
    return _of("black" if black(key) else "white")


def available(
    before: Step, after: Step, tempo: float, between: Fraction = Fraction(0), feel: str = "straight"
) -> float:
    """Return the seconds from one chord's beat to the next one's at a tempo in the song file's beats a minute.

    `between` are the beats of bars without a chord that lie between; a pushed chord comes early (`Meter.push`).
    """
    beats = before.beats + between + _early(before, feel) - _early(after, feel)
    return max(float(beats) * before.beat_seconds(tempo), 0.0)


def load(needs: float, gives: float) -> float:
    """Return time needed over time available (a hundredth of a second at least); above 1 the hands come late."""
    return needs / max(gives, 0.01)


def starting_tempo(needs: float, gives: float, tempo: float) -> float:
    """Return the fastest whole tempo, the song's at most, at which a shift needs at most half the time it gets."""
    share = COMFORT / load(needs, gives) if needs > 0 else 1.0
    return tempo if share >= 1 else max(float(int(tempo * share)), 1.0)


def _early(step: Step, feel: str) -> Fraction:
    return step.meter.push(feel) if step.mark == "push" else Fraction(0)


def _of(name: str) -> float:
    return TABLE[name].value
