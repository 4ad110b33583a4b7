"""A session with its plans and its files, put together as the application does, without a screen."""

from pathlib import Path

from engine.song.model import SetList
from tests.tui.ready_planner import ReadyPlanner
from tui.persistence import store
from tui.persistence.open_files import OpenFiles
from tui.planning.plans import Plans
from tui.session.rehearsal import Unfold
from tui.session.session import Session, unfolded


class Evening:
    """What is behind the screens."""

    def __init__(
        self,
        set_list: SetList,
        path: Path | None = None,
        song: int = 0,
        step: int = 0,
        unfold: Unfold = unfolded,
    ) -> None:
        self.session = Session(set_list, unfold, song, step)
        self.files = OpenFiles(self.session, path)
        self.plans = Plans(self.session)

    async def start(self) -> None:
        await self.files.start()
        await self.plans.start()

    async def close(self) -> None:
        await self.files.close()
        self.session.close()
        await self.plans.close()


def evening_on(path: Path) -> Evening:
    """Open a set that plans at once."""
    evening = Evening(store.open_set(path), path)
    evening.plans.planner = ReadyPlanner()  # type: ignore[assignment]
    return evening
