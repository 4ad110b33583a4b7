"""The practice log as lines of text, and what it tells about each shift.

One try a line, a JSON object each (JSON Lines, an open convention), newest last, so that a player may read it, cut it
or mail it. A shift is known by its sign: its keys and fingers, never its place, so that a set may be edited between
two evenings. The order of the lines is the order of the tries, whatever the clock said.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from engine.practice.lateness import Late, Ride, last_heard

NIGHT_ENDS = timedelta(hours=4)
"""What is played before four in the morning belongs to the evening before (own choice)."""


@dataclass(frozen=True, slots=True)
class Try:
    """One try of a shift: `when` by the player's own clock, `tempo` as the song file counts, `clean` or stopped; `late`
    is by how many seconds the shift took longer than it may, None where nobody listened."""

    when: datetime
    sign: str
    tempo: float
    clean: bool
    symbols: tuple[str, str] = ("", "")
    title: str = ""
    late: float | None = None


@dataclass(frozen=True, slots=True)
class BadLine:
    """A line (from 1) that is no try; it is left as it is and skipped."""

    line: int
    found: str

    def __str__(self) -> str:
        return f"line {self.line}: {self.found}"


@dataclass(frozen=True, slots=True)
class Log:
    """What a log holds. `cautioned` is True when the player has seen the caution; `rides` are songs played in time."""

    tries: tuple[Try, ...] = ()
    bad: tuple[BadLine, ...] = ()
    cautioned: bool = False
    rides: tuple[Ride, ...] = ()

    def heard(self) -> dict[str, Late]:
        """Return how late each shift was when it was last heard, by its sign."""
        tries = [(one.sign, Late(one.late, one.tempo, one.when)) for one in self.tries if one.late is not None]
        rides = [(sign, Late(late, ride.tempo, ride.when)) for ride in self.rides for sign, late in ride.late]
        return last_heard(tries + rides)


@dataclass(frozen=True, slots=True)
class Memory:
    """What is known of one shift. `best` is the fastest clean tempo, 0.0 before the first; `streak` the clean tries at
    the end of the log, at `tempo`, the tempo of the last try.

    `evenings` are (evening, best clean tempo, tries), in the order they were played; no clean try gives 0.0.
    """

    sign: str
    tries: int
    clean: int
    best: float
    tempo: float
    streak: int
    seen: datetime
    evenings: tuple[tuple[date, float, int], ...]
    symbols: tuple[str, str] = ("", "")

    def due(self, now: datetime) -> bool:
        """True when a night lies between the last try and now. A clock set back to another day counts as a night."""
        return evening(self.seen) != evening(now)

    def kept(self, now: datetime) -> float:
        """Return the best clean tempo of the last evening before this one, 0.0 when there was none."""
        earlier = [best for day, best, _ in self.evenings if day != evening(now) and best > 0]
        return earlier[-1] if earlier else 0.0


def evening(when: datetime) -> date:
    """Return the day whose evening a moment belongs to, by the clock on the player's own wall."""
    return (when.replace(tzinfo=None) - NIGHT_ENDS).date() if when.year > 1 else when.date()


def read_log(text: str) -> Log:
    """Read a log; lines that cannot be read are listed and skipped, empty ones skipped."""
    tries: list[Try] = []
    bad: list[BadLine] = []
    rides: list[Ride] = []
    cautioned = False
    # Only the line feed ends a line: JSON may hold other line ends inside its strings.
    for number, line in enumerate(text.split("\n"), 1):
        if not line.strip():
            continue
        try:
            value = json.loads(line)
            if isinstance(value, dict) and "caution" in value:
                cautioned = True
            elif isinstance(value, dict) and "taken back" in value:
                # The line taken back stays where it is: the file is only ever added to.
                tries = tries[:-1]
            elif isinstance(value, dict) and isinstance(value.get("late"), dict):
                rides.append(_ride(value))
            else:
                tries.append(_try(value))
        except (ValueError, TypeError, KeyError, AttributeError, OverflowError, RecursionError):
            bad.append(BadLine(number, f"{line.strip()[:30]!r} is no try"))
    return Log(tuple(tries), tuple(bad), cautioned, tuple(rides))


def _try(value: dict[str, object]) -> Try:
    when, sign, clean = value["when"], value["shift"], value["clean"]
    symbols = value.get("chords", ["", ""])
    if not (isinstance(when, str) and isinstance(sign, str) and sign.strip() and isinstance(clean, bool)):
        raise ValueError(value)
    if not (isinstance(symbols, list) and len(symbols) == 2 and all(isinstance(one, str) for one in symbols)):
        raise ValueError(symbols)
    title = str(value.get("song", ""))
    late = None if value.get("late") is None else _seconds(value["late"])
    moment, tempo = datetime.fromisoformat(when), _number(value["tempo"], 1, 1000)
    return Try(moment, sign.strip(), tempo, clean, (symbols[0], symbols[1]), title, late)


def _seconds(value: object) -> float:
    return _number(value, -1000, 1000)


def _number(value: object, least: float, most: float) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not least <= value <= most:
        raise ValueError(value)
    return float(value)


def _ride(value: dict[str, object]) -> Ride:
    when, shifts, late = value["when"], value.get("shifts", 0), value["late"]
    if not (isinstance(when, str) and isinstance(late, dict) and isinstance(shifts, int)):
        raise ValueError(value)
    pairs = tuple((str(sign), _seconds(seconds)) for sign, seconds in late.items())
    tempo = _number(value["tempo"], 1, 1000)
    return Ride(datetime.fromisoformat(when), str(value.get("song", "")), tempo, shifts, pairs)


def line_of(one: Try) -> str:
    """Return a try as a line without its line end; reading it gives the same try, to the second."""
    value = {
        "when": one.when.isoformat(timespec="seconds"),
        "shift": one.sign,
        "tempo": _figure(one.tempo),
        "clean": one.clean,
        "chords": list(one.symbols),
        "song": one.title,
    }
    if one.late is not None:
        value["late"] = one.late
    return json.dumps(value, ensure_ascii=False)


def ride_line(ride: Ride) -> str:
    """Return a ride as a line without its line end; reading it gives the same ride, to the second."""
    value = {"when": ride.when.isoformat(timespec="seconds"), "song": ride.title, "tempo": _figure(ride.tempo)}
    return json.dumps(value | {"shifts": ride.shifts, "late": dict(ride.late)}, ensure_ascii=False)


def _figure(tempo: float) -> float:
    """Return a tempo without the .0 that nobody writes."""
    return int(tempo) if float(tempo).is_integer() else tempo


def caution_line(when: datetime) -> str:
    """Return the line that says the caution was seen."""
    return json.dumps({"when": when.isoformat(timespec="seconds"), "caution": "seen"})


def taken_back_line(when: datetime) -> str:
    """Return the line that takes back the try before it: a verdict given by a slip of the finger."""
    return json.dumps({"when": when.isoformat(timespec="seconds"), "taken back": "last"})


def remembered(tries: Iterable[Try]) -> dict[str, Memory]:
    """Return what is known of each shift, by its sign."""
    by_sign: dict[str, list[Try]] = {}
    for one in tries:
        by_sign.setdefault(one.sign, []).append(one)
    return {sign: _memory(sign, ordered) for sign, ordered in by_sign.items()}


def _memory(sign: str, tries: list[Try]) -> Memory:
    last = tries[-1]
    evenings: dict[date, tuple[float, int]] = {}
    for one in tries:
        best, count = evenings.get(evening(one.when), (0.0, 0))
        evenings[evening(one.when)] = (max(best, one.tempo if one.clean else 0.0), count + 1)
    streak = 0
    for one in reversed(tries):
        if not one.clean or one.tempo != last.tempo:
            break
        streak += 1
    return Memory(
        sign=sign,
        tries=len(tries),
        clean=sum(one.clean for one in tries),
        best=max((one.tempo for one in tries if one.clean), default=0.0),
        tempo=last.tempo,
        streak=streak,
        seen=last.when,
        evenings=tuple((day, best, count) for day, (best, count) in evenings.items()),
        symbols=last.symbols,
    )
