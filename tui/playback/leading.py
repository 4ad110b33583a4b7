"""Leading and following another copy of the set: which song, and where in it (see performance/following)."""

from dataclasses import replace
from fractions import Fraction

from engine.performance.following import SIXTEENTHS, Place, step_at, step_positions
from engine.song.model import Step
from tui.session.rehearsal import NotThere, Rehearsal
from tui.session.song_numbers import index_of


def led(now: Rehearsal) -> tuple[int, int]:
    """Return (song from 0 as the set is written, sixteenth) of the place where we are, for the copies that follow."""
    positions = _positions(now.steps)
    number = now.set_list.numbers[now.song] if now.songs else 1
    return number - 1, positions[min(now.step, len(positions) - 1)] if positions else 0


def followed(now: Rehearsal, place: Place) -> Rehearsal:
    """Return the rehearsal at the leader's place; the same one when we are there already.

    Raises:
        NotThere: this set does not have the leader's song.
    """
    song = now.song if place.song is None else _song(now, place.song)
    steps = now.songs[song].steps
    step = step_at(_positions(steps), place.sixteenth) if place.sixteenth is not None else 0
    if song == now.song and (step == now.step or place.sixteenth is None):
        return now
    kept = replace(now, loop=None) if song != now.song else now
    return replace(kept, song=song, step=step, cued=False)


def _song(now: Rehearsal, place: int) -> int:
    try:
        return index_of(now.set_list, place + 1)
    except NotThere as fault:
        raise NotThere(f"the leader is at song {place + 1}: {fault}") from None


def beat(now: Rehearsal, place: Place) -> int:
    """Return the beat of the bar that the leader's running time has reached, from 1; 0 while it stands still."""
    step = now.now
    if not place.running or place.sixteenth is None or step is None:
        return 0
    since = Fraction(place.sixteenth - _positions(now.steps)[now.step], SIXTEENTHS) / step.meter.beat_quarters
    return int(step.beat - 1 + max(since, Fraction(0))) % step.meter.beats + 1


def _positions(steps: tuple[Step, ...]) -> tuple[int, ...]:
    key = id(steps)
    if key not in _known or _known[key][0] is not steps:
        if len(_known) > 100:
            _known.clear()
        _known[key] = (steps, step_positions(steps))
    return _known[key][1]


_known: dict[int, tuple[tuple[Step, ...], tuple[int, ...]]] = {}
