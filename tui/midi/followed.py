"""The leader as a follower's clock process knows it: where it is, and whether it has been heard of lately."""

from dataclasses import replace
from typing import Any

from engine.performance.following import Place, hear, lost
from tui.midi.messages import LeaderAt

LEADER_SILENT = 4.0
"""Seconds without a word from the leader after which its port is opened anew: it may have come back under the same
name, and a leader of ours speaks every second."""


class Followed:
    """A leader's clock comes 24 times a quarter, so only what moves the place is passed on."""

    def __init__(self) -> None:
        self._place = Place()
        self._told: tuple[Any, ...] = ()
        self._heard = 0.0

    def begin(self, now: float) -> None:
        """The leader's port has been opened."""
        self._heard = now

    def hear(self, data: bytes, at: float) -> LeaderAt | None:
        """Take a message; return what is to be told of the place, None when that is no news."""
        self._heard = at
        self._place = hear(self._place, data, at)
        return self._news(at)

    def look(self, now: float) -> LeaderAt | None:
        """Notice that a running leader is gone; return as `hear`."""
        if not lost(self._place, now):
            return None
        self._place = replace(self._place, running=None, fresh=True, times=())
        return self._news(now)

    def silent(self, now: float) -> bool:
        """True when nothing has been heard for so long that the port is to be opened anew."""
        return now - self._heard > LEADER_SILENT

    def _news(self, at: float) -> LeaderAt | None:
        place = self._place
        told = (place.song, place.sixteenth, place.running)
        if told == self._told:
            return None
        self._told = told
        return LeaderAt(Place(place.song, place.sixteenth, place.running), place.tempo if place.running else None, at)
