"""What was heard of a song that was played in time, put into the practice log."""

import asyncio
from collections.abc import Mapping
from datetime import datetime
from typing import TYPE_CHECKING

from tui.session.desk import Desk

if TYPE_CHECKING:
    from engine.planning.model import Plan
    from engine.song.model import Song


async def keep_ride(desk: Desk, song: "Song", plan: "Plan", heard: Mapping[int, float]) -> None:
    """Keep how late each shift came (step -> seconds); what cannot be written is said on the desk."""
    from engine.practice.lateness import ride
    from tui.persistence import practice_log, store

    one = ride(datetime.now().astimezone(), song.title, song.tempo, plan, heard)
    if not one.shifts:
        return
    try:
        await asyncio.to_thread(practice_log.add_ride, one)
    except store.StoreError as fault:
        desk.trouble["practice"] = f"NOT KEPT: {fault.found}, {fault.hint}"
