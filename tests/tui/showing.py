"""The application under test, and one way to read what it shows."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from textual import events
from textual.keys import _character_to_key
from textual.pilot import Pilot

from engine.song.model import SetList
from tests.tui import charts
from tests.tui.ready_planner import ReadyPlanner
from tui.app import StandApp


def stand_app(set_list: SetList | None = None, **options: Any) -> StandApp:
    app = StandApp(set_list or charts.harbour_set(), **options)
    app._time = lambda: ""  # type: ignore[method-assign]
    app.plans.planner = ReadyPlanner()  # type: ignore[assignment]
    return app


class Player:
    """Presses keys. Textual's own pilot waits a twentieth of a second after each key, this one after the last."""

    def __init__(self, app: StandApp, pilot: Pilot[None]) -> None:
        self.app, self.pilot = app, pilot

    async def press(self, *keys: str) -> None:
        for key in keys:
            char = CHARACTERS.get(key, key if len(key) == 1 else None)
            self.app.post_message(events.Key(_character_to_key(key) if len(key) == 1 else key, char))
            for _ in range(30):
                await asyncio.sleep(0)
        await self.pause()

    async def pause(self, seconds: float = 0.0) -> None:
        """Let everything happen that has begun."""
        await self.pilot.pause(seconds)
        for _ in range(30):
            await asyncio.sleep(0)
        await self.pilot.pause(0.0)


CHARACTERS = {"space": " ", "minus": "-", "plus": "+", "slash": "/", "full_stop": ".", "comma": ","}


@asynccontextmanager
async def running(app: StandApp, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Player]:
    async with app.run_test(size=size) as pilot:
        player = Player(app, pilot)
        await player.pause()
        yield player


def shown(app: StandApp) -> list[str]:
    """Return the rows of the screen as a person would read them."""
    strips = app.screen._compositor.render_strips(app.size)
    return ["".join(segment.text for segment in strip) for strip in strips]


def text(app: StandApp) -> str:
    return "\n".join(shown(app))


def looks(app: StandApp) -> list[list[tuple[str, str, str, bool]]]:
    """Return (text, ink, ground, bold) of every run of every row."""
    rows = []
    for strip in app.screen._compositor.render_strips(app.size):
        row = []
        for segment in strip:
            style = segment.style
            ink = style.color.name if style and style.color else ""
            ground = style.bgcolor.name if style and style.bgcolor else ""
            row.append((segment.text, ink, ground, bool(style and style.bold)))
        rows.append(row)
    return rows


def planner(app: StandApp) -> ReadyPlanner:
    assert isinstance(app.plans.planner, ReadyPlanner)
    return app.plans.planner


async def waited(pilot: Player, app: StandApp, words: str) -> None:
    """Wait until the screen says something."""
    for _ in range(200):
        if words in text(app):
            return
        await pilot.pause(0.02)
    assert words in text(app)


def place(app: StandApp) -> str:
    """Return the stand's line of the place."""
    return shown(app)[-2].strip()
