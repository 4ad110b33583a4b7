"""A planner that answers at once and without a process."""

import asyncio
from typing import Any

from engine.planning.model import Plan, Request
from engine.song.model import Step
from tests.tui import charts
from tui.planning.client import URGENT


class ReadyPlanner:
    """Plans at once and without a process, for tests that are about the screens."""

    def __init__(self) -> None:
        self.asked: list[tuple[str, Any]] = []
        self.answers: dict[str, Any] = {}
        self.slow: set[str] = set()
        """Tasks that are never done."""

    async def start(self) -> None:
        return None

    async def plan(self, steps: tuple[Step, ...], request: Request, urgency: int = URGENT) -> Plan:
        self.asked.append(("plan", request))
        return charts.plan_of(steps)

    async def ask(self, task: str, arguments: tuple[Any, ...], urgency: int = URGENT) -> Any:
        self.asked.append((task, arguments))
        if task in self.slow:
            await asyncio.Event().wait()
        return charts.in_hands(arguments[0]) if task == "key" else self.answers.get(task, ())

    async def close(self) -> None:
        return None
