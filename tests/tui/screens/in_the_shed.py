"""Opening the shed, and the log as it is kept."""

from engine.practice.log import Log
from engine.practice.ranking import HardShift
from tests.tui.showing import Player
from tui.app import StandApp
from tui.persistence import practice_log
from tui.screens.practice.screen import ShedScreen


async def opened(app: StandApp, pilot: Player, read: bool = True) -> ShedScreen:
    """Open the shed and wait for its log; `read` takes the caution of the first visit as read."""
    await pilot.press("a")
    await log_quiet(app)
    await pilot.pause()
    if read:
        await pilot.press("enter")
        await pilot.pause()
    assert isinstance(app.screen, ShedScreen)
    return app.screen


def chosen(screen: ShedScreen) -> HardShift:
    """Return the shift that is chosen: there is one."""
    assert screen.chosen is not None
    return screen.chosen


async def kept(app: StandApp) -> Log:
    """Return the log as it is on the disk, once all is written."""
    await log_quiet(app)
    return practice_log.load()


async def log_quiet(app: StandApp) -> None:
    """Wait until the log is read, or written, as far as it will be."""
    await app.workers.wait_for_complete([one for one in app.workers if one.group == "practice log"])
