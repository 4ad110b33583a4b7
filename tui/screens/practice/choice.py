"""Which of the set's shifts is practised, and at which tempo its next try stands."""

from collections.abc import Callable, Mapping
from datetime import datetime

from engine.planning.model import Plan
from engine.practice.log import Memory
from engine.practice.ranking import HardShift, Ranking
from engine.practice.tempo_ladder import first_tempo
from engine.song.model import SetSong
from tui.screens.practice.set_ranking import SetRanking


class Choice:
    """A cursor over the ranking; `moved` once the player has chosen. `memories` gives what is known of each shift."""

    def __init__(
        self, ranking: SetRanking, memories: Callable[[], Mapping[str, Memory]], now: Callable[[], datetime]
    ) -> None:
        self.set = ranking
        self._cursor = 0
        self.moved = False
        self.own_tempo: dict[str, float] = {}
        """The sign of a shift -> the tempo that the player has taken for it."""
        self._memories, self._now = memories, now

    def rank(self) -> None:
        """Take up what has been planned since. Until the player has chosen, the hardest of that is under the cursor."""
        chosen = self.hard if self.moved else None
        if self.set.look() and chosen is not None:
            self.choose(chosen.shift.sign)

    @property
    def ranking(self) -> Ranking:
        return self.set.ranking

    @property
    def cursor(self) -> int:
        """The number of the shift under the cursor, of those that are ranked now."""
        return max(0, min(self._cursor, len(self.ranking.shifts) - 1))

    @property
    def hard(self) -> HardShift | None:
        """The shift under the cursor, None while nothing is ranked."""
        shifts = self.ranking.shifts
        return shifts[self.cursor] if shifts else None

    def choose(self, sign: str) -> None:
        """Put the cursor on a shift, if the set has it."""
        for number, hard in enumerate(self.ranking.shifts):
            if hard.shift.sign == sign:
                self._cursor = number

    def move(self, direction: int) -> None:
        """Go to an easier (1) or a harder (-1) shift."""
        self.moved = True
        self._cursor = max(0, self.cursor + direction)

    def planned(self) -> tuple[SetSong, Plan] | None:
        """Return the song where the chosen shift is tightest, with its plan."""
        hard = self.hard
        place = self.set.place(hard.tightest.song) if hard else None
        plan = self.set.plans.of(place) if place else None
        return (place, plan) if place and plan else None

    def tempo(self, hard: HardShift) -> float:
        """Return the tempo of the next try of a shift."""
        sign = hard.shift.sign
        own = self.own_tempo.get(sign)
        return own if own is not None else first_tempo(hard, self._memories().get(sign), self._now())
