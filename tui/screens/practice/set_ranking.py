"""The set's ranking as far as it is planned, made anew only when a plan, a song or a tempo is another."""

from engine.planning.model import Plan
from engine.practice.ranking import Met, Ranking, meetings, ranked
from engine.song.model import SetSong, Song
from tui.planning.plans import Plans
from tui.session.session import Session


class SetRanking:
    """Follows the session: `ranking` over what is planned by now, `span` its lowest and highest key, `planned` (songs
    planned, songs)."""

    def __init__(self, session: Session, plans: Plans) -> None:
        self.session, self.plans = session, plans
        self.ranking = Ranking(())
        self.span = (36, 84)
        self.planned = (0, 0)
        self._ranked: tuple[tuple[int, Song, Plan], ...] = ()
        self._met: dict[tuple[int, int], tuple[Song, Plan, list[Met]]] = {}

    def look(self) -> bool:
        """Rank anew if there is something new; tell whether there was."""
        songs = self.session.now.songs
        entries = [(number, place.song, plan) for number, place in enumerate(songs) if (plan := self.plans.of(place))]
        self.planned = (len(entries), len(songs))
        if len(entries) == len(self._ranked) and all(map(_same, entries, self._ranked)):
            return False
        self._ranked = tuple(entries)
        self.ranking = ranked(met for entry in entries for met in self._meetings(*entry))
        keys = [key for _, _, plan in entries for step in plan.steps for key in step.keys]
        self.span = (min(keys, default=36), max(keys, default=84))
        return True

    def _meetings(self, number: int, song: Song, plan: Plan) -> list[Met]:
        """Return the shifts of a song; the song and the plan themselves are kept, so that their identity cannot be
        taken by others."""
        kept = self._met.get((number, id(plan)))
        if kept is None or kept[0] is not song:
            if len(self._met) > 400:
                self._met.clear()
            kept = self._met[number, id(plan)] = (song, plan, list(meetings(number, song, plan)))
        return kept[2]

    def place(self, number: int) -> SetSong | None:
        """Return the song of this number, None when the set has it no longer."""
        songs = self.session.now.songs
        return songs[number] if number < len(songs) else None


def _same(one: tuple[int, Song, Plan], other: tuple[int, Song, Plan]) -> bool:
    return one[0] == other[0] and one[1] is other[1] and one[2] is other[2]
