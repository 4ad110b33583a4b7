"""What there is to practise: the set's shifts, the hardest first, one of them chosen, and the tempo of its next try."""

from collections.abc import Callable
from datetime import datetime

from engine.planning.model import Plan
from engine.practice.ranking import HardShift, Ranking
from engine.practice.tempo_ladder import first_tempo
from engine.song.model import SetSong
from tui.screens.context import Context
from tui.screens.page import Page
from tui.screens.practice.keeping import Keeping
from tui.screens.practice.round import Round
from tui.screens.practice.set_ranking import SetRanking
from tui.session import rehearsal as stand


class Choosing(Page):
    """A page with a shift under the cursor; `moved` once the player has chosen one."""

    def __init__(self, context: Context, now: Callable[[], datetime] | None = None) -> None:
        super().__init__(context)
        self.now = now or (lambda: datetime.now().astimezone())
        self.cursor = 0
        self.moved = False
        self.keeping = Keeping(self.session)
        self.round = Round(context.sound)
        self.own_tempo: dict[str, float] = {}
        """The sign of a shift -> the tempo that the player has taken for it."""
        self.set_ranking = SetRanking(self.session, context.plans)

    def rank(self) -> None:
        """Take up what has been planned since. Until the player has chosen, the hardest of that is under the cursor."""
        chosen = self.chosen if self.moved else None
        if self.set_ranking.look() and chosen is not None:
            self.choose(chosen.shift.sign)

    @property
    def ranking(self) -> Ranking:
        return self.set_ranking.ranking

    @property
    def chosen(self) -> HardShift | None:
        shifts = self.ranking.shifts
        return shifts[min(self.cursor, len(shifts) - 1)] if shifts else None

    def choose(self, sign: str) -> None:
        """Put the cursor on a shift, if the set has it."""
        for number, hard in enumerate(self.ranking.shifts):
            if hard.shift.sign == sign:
                self.cursor = number

    def planned(self, hard: HardShift | None) -> tuple[SetSong, Plan] | None:
        """Return the song where a shift is tightest, with its plan."""
        place = self.set_ranking.place(hard.tightest.song) if hard else None
        plan = self.context.plans.of(place) if place else None
        return (place, plan) if place and plan else None

    def tempo(self, hard: HardShift) -> float:
        """Return the tempo of the next try of a shift."""
        sign = hard.shift.sign
        own = self.own_tempo.get(sign)
        return own if own is not None else first_tempo(hard, self.keeping.memories.get(sign), self.now())

    def open_song(self, song: int) -> bool:
        """Open a song of the set on the stand; tell whether it is open."""
        return song == self.session.now.song or self.session.attempt(lambda: stand.open_song(self.session.now, song))
