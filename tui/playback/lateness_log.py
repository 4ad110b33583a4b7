"""What was heard of a song that was played in time, put into the practice log."""

import asyncio
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from engine.planning.model import Plan
    from engine.song.model import Song


async def keep_ride(notice: Callable[[str, str], None], song: "Song", plan: "Plan", heard: Mapping[int, float]) -> None:
    """Keep how late each shift came (step -> seconds); `notice` is told what cannot be written."""
    from engine.practice.lateness import ride
    from tui.persistence import practice_log, store

    one = ride(datetime.now().astimezone(), song.title, song.tempo, plan, heard)
    if not one.shifts:
        return
    try:
        await asyncio.to_thread(practice_log.add_ride, one)
    except store.StoreError as fault:
        notice("practice", f"NOT KEPT: {fault.found}, {fault.hint}")
