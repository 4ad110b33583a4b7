"""Silence that somebody must send: the clock's process, in its place the one that lists the ports, or the player is
told that nobody can."""

import threading
from dataclasses import dataclass, replace

from tui.midi.lister import Lister
from tui.midi.messages import Hush, Panic

CLOCK_HAS = 0.1
"""Seconds in which the clock's process must answer a panic before another process is asked."""

ALL_HAVE = 1.0
"""Seconds after which the player is told that nobody has answered."""


@dataclass(frozen=True, slots=True)
class _Asked:
    at: float
    out: str
    passed_on: bool = False


class Silences:
    """What has been asked for and not yet done, by number. Used by several threads."""

    def __init__(self, lister: Lister) -> None:
        self._lister = lister
        self._lock = threading.Lock()
        self._number = 0
        self._asked: dict[int, _Asked] = {}

    def ask(self, now: float, wanted: str, opened: str) -> Panic:
        """Return the message for the clock's process; `wanted` is the port that is to play, `opened` the one it has."""
        with self._lock:
            self._number += 1
            if wanted:
                self._asked[self._number] = _Asked(now, opened or wanted)
            return Panic(self._number)

    def instead(self, now: float, out: str) -> None:
        """Have a port silenced at once, in place of a clock that has just died."""
        with self._lock:
            self._number += 1
            number = self._number
        if self._lister.hush(Hush(out, number, again=True)):
            return
        with self._lock:
            self._asked[number] = _Asked(now, out)

    def done(self, number: int) -> None:
        """A silence has been sent, and with it all that were asked for before."""
        with self._lock:
            self._asked = {other: asked for other, asked in self._asked.items() if other > number}

    def wait(self, seconds: float) -> float:
        """Return how long the watch may rest."""
        return min(seconds, CLOCK_HAS / 2) if self._asked else seconds

    def look(self, now: float, clock_there: bool) -> str:
        """Pass on what the clock's process did not answer; return words for the player when nobody did, else ""."""
        with self._lock:
            asked = dict(self._asked)
        for number, one in asked.items():
            if one.passed_on or (clock_there and now - one.at < CLOCK_HAS):
                continue
            if self._lister.hush(Hush(one.out, number)):
                with self._lock:
                    if number in self._asked:
                        self._asked[number] = replace(one, passed_on=True)
        late = [number for number, one in asked.items() if now - one.at > ALL_HAVE]
        if not late:
            return ""
        self.done(max(late))
        return f"NOT SILENCED: nobody reaches {asked[late[-1]].out}; turn it down or off"
