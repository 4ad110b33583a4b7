"""The twelve keys compared: what each means for the hands, the singer, the horns and the eyes; people choose."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from engine.errors import NoGrip
from engine.hand.keyboard import span
from engine.planning.lineup import held_tune
from engine.planning.model import Plan, Request
from engine.planning.move_words import distance
from engine.planning.own_tune.wanted import own_tune
from engine.song.model import Song, Step
from engine.song.transposing import WRITTEN, nearest, shifted
from engine.song.tune import sung_range
from engine.theory.key import Key, between, read_key, sensible, spelled_in_key

MUDDY = 1.0
"""Effort of mud from which a chord counts as unclear: a semitone and a quarter below the limits (own choice)."""

SAME_EFFORT, SAME_WIDTH = 1.02, 3.0
"""Keys lie equally well within 2 % of effort, and within 3 mm of the widest grip: no hand feels less (own choice)."""

Range = tuple[int, int]
"""Lowest and highest note, MIDI numbers."""


Planned = Callable[[Sequence[Step], Request], Plan]
Unfold = Callable[[Song], tuple[Step, ...]]


@dataclass(frozen=True, slots=True)
class KeyRow:
    """One key. `semitones` from the song's own, the way the tune moves; `effort` None where no chord fits the hands,
    and before anything is planned.

    `widest`: millimetres of the widest grip. `muddy`: steps that sit too low. `melody`: where the tune lies, None if
    it is not known; `outside`: how many semitones of it lie outside the singer's range, and `off`: how far its middle
    is from the range's middle. `written`: the horns' keys. `best`: the key to try first, see `judged`.
    """

    key: str
    semitones: int
    signature: int
    effort: float | None
    widest: float
    muddy: int
    melody: Range | None
    outside: int
    off: float
    written: tuple[tuple[str, str], ...]
    best: bool = False
    reason: str = ""


@dataclass(frozen=True, slots=True)
class _Tune:
    """Where the tune lies in the song's own key, and the range of who sings it; None for what is not known."""

    melody: Range | None
    singer: Range | None

    def moved(self, semitones: int) -> Range | None:
        """Return where the tune lies in another key."""
        return (self.melody[0] + semitones, self.melody[1] + semitones) if self.melody else None

    def outside(self, semitones: int) -> int:
        """Return how many semitones of the moved tune lie outside the singer's range."""
        tune = self.moved(semitones)
        return max(0, self.singer[0] - tune[0]) + max(0, tune[1] - self.singer[1]) if tune and self.singer else 0

    def off(self, semitones: int) -> float:
        """Return how many semitones the middle of the moved tune lies from the middle of the singer's range."""
        tune = self.moved(semitones)
        return abs(sum(tune) / 2 - sum(self.singer) / 2) if tune and self.singer else 0.0


def compare_keys(
    song: Song, request: Request, plan: Planned, unfold: Unfold, singer: Range | None = None, horns: Sequence[str] = ()
) -> tuple[KeyRow, ...]:
    """Return the twelve keys, the song's own first, then upwards by half steps.

    `plan` and `unfold` are the planner's and the song's own, or what stands for them; `singer` is the range of who
    sings, `horns` the keys that instruments read in.
    """
    return judged([in_hands(row, song, request, plan, unfold) for row in every_key(song, singer, horns)])


def every_key(song: Song, singer: Range | None = None, horns: Sequence[str] = ()) -> tuple[KeyRow, ...]:
    """Return what is known of the twelve keys before anything is planned: all but the hands."""
    own, tune = read_key(song.key), _Tune(sung_range(song), singer)
    return tuple(_row(own.up(fifths), _way(fifths, tune), tune, horns) for fifths in _twelve(own))


def in_hands(row: KeyRow, song: Song, request: Request, plan: Planned, unfold: Unfold) -> KeyRow:
    """Return a key with what it means for the hands."""
    key = read_key(row.key)
    fifths = between(read_key(song.key), key)
    moved = shifted(song, fifths, row.key) if fifths else song
    try:
        tonight = replace(
            request,
            pins=moved.pins if request.pins else (),
            tune=held_tune(moved) if request.tune else (),
            own_tune=own_tune(moved) if request.own_tune else (),
            melody=request.melody and (request.melody[0] + nearest(fifths), request.melody[1] + nearest(fifths)),
        )
        found = plan(unfold(moved), tonight)
    except NoGrip:
        return replace(row, effort=None)
    hands = [hand for step in found.steps for hand in (*step.positions, step.right) if hand]
    return replace(
        row,
        effort=found.effort,
        widest=max((span(hand[0].key, hand[-1].key) for hand in hands), default=0.0),
        muddy=sum(dict(step.terms).get("mud", 0.0) >= MUDDY for step in found.steps),
    )


def judged(rows: Sequence[KeyRow]) -> tuple[KeyRow, ...]:
    """Return the keys, the song's own first, with the best marked and what each brings in words.

    The best fit the singer as well as any, and of those ask least of the hands: the least effort, then the fewest
    unclear chords, then the narrowest grips, where less than `SAME_EFFORT` and `SAME_WIDTH` is no difference. Only
    between keys that are the same in all that do fewer signs decide. Several may be best; none is where no key fits
    the hands.
    """
    best = {row.key for row in _best(rows)}
    return tuple(replace(row, best=row.key in best, reason=_reason(row, rows[0])) for row in rows)


def _best(rows: Sequence[KeyRow]) -> list[KeyRow]:
    left = _least([row for row in rows if row.effort is not None], lambda row: row.outside)
    left = _least(left, lambda row: row.effort or 0.0, times=SAME_EFFORT)
    left = _least(_least(left, lambda row: row.muddy), lambda row: row.widest, plus=SAME_WIDTH)
    return _least(left, lambda row: abs(row.signature))


def _least(
    rows: list[KeyRow], measure: Callable[[KeyRow], float], times: float = 1.0, plus: float = 0.0
) -> list[KeyRow]:
    """Return the keys that measure the least, and those that are within so much of it."""
    least = min(map(measure, rows), default=0.0)
    return [row for row in rows if measure(row) <= least * times + plus]


def _twelve(own: Key) -> list[int]:
    """Return the fifths from the own key to each of the twelve, spelled sensibly, upwards by half steps."""
    keys = [sensible(own.up(fifths)) for fifths in range(-6, 6)]
    return sorted((between(own, key) for key in keys), key=lambda fifths: fifths * 7 % 12)


def _way(fifths: int, tune: _Tune) -> int:
    """Return the semitones that the tune moves: the way that suits the singer better, else the shorter one."""
    near = nearest(fifths)
    if near == 0:
        return near
    ways = (near, near - 12 if near > 0 else near + 12)
    return min(ways, key=lambda way: (tune.outside(way), tune.off(way), abs(way)))


def _row(key: Key, semitones: int, tune: _Tune, horns: Sequence[str]) -> KeyRow:
    row = KeyRow(
        key=str(key),
        semitones=semitones,
        signature=key.signature,
        effort=None,
        widest=0.0,
        muddy=0,
        melody=tune.moved(semitones),
        outside=tune.outside(semitones),
        off=tune.off(semitones),
        written=tuple((horn, str(sensible(key.up(WRITTEN[horn])))) for horn in horns if WRITTEN.get(horn)),
    )
    return replace(row, reason=_worded(row, _tuneful(row)))


def _reason(row: KeyRow, own: KeyRow) -> str:
    """Say in a line what the key brings: "down a major third: the tune tops out on C5, effort -8 %"."""
    if row.effort is None:
        return "no chord fits the hands"
    said = _tuneful(row)
    if own.effort and row is not own:
        said.append(f"effort {100 * (row.effort - own.effort) / own.effort:+.0f} %")
    if row.muddy > own.muddy:
        more = row.muddy - own.muddy
        said.append(f"{more} more chord{'s' * (more > 1)} low and unclear")
    return _worded(row, said)


def _tuneful(row: KeyRow) -> list[str]:
    said = []
    if row.melody:
        said.append(f"the tune tops out on {spelled_in_key(row.melody[1], row.signature)}")
    if row.outside:
        said.append(f"{row.outside} half step{'s' * (row.outside > 1)} outside the singer's range")
    return said


def _worded(row: KeyRow, said: Sequence[str]) -> str:
    return f"{_move(row.semitones)}: {', '.join(said)}" if said else _move(row.semitones)


def _move(semitones: int) -> str:
    if semitones == 0:
        return "as written"
    return f"{'up' if semitones > 0 else 'down'} {distance(abs(semitones))}"
