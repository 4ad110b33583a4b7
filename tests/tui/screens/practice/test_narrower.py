"""The narrower version of a shift."""

from dataclasses import replace
from typing import Any

from engine.planning.model import Plan
from tests.tui import charts
from tests.tui.screens.in_the_shed import opened
from tests.tui.showing import running, shown, stand_app, text


async def test_the_narrower_version_is_shown_and_kept_as_pins() -> None:
    app = stand_app()

    class Narrow:
        async def plan(self, steps: Any, request: Any, urgency: int = 0) -> Plan:
            plan = charts.plan_of(steps)
            lower = tuple(replace(one, left=tuple(replace(n, key=n.key + 12) for n in one.left)) for one in plan.steps)
            return replace(plan, steps=lower)

    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("k")
        assert "v shows a narrower version first" in shown(app)[0]
        app.plans.planner.plan = Narrow().plan  # type: ignore[method-assign]
        await pilot.press("v")
        await pilot.pause()
        assert screen.narrow is not None
        assert "k = keep it for tonight" in text(app)
        await pilot.press("k")
        here = app.session.now.here
        assert here is not None
        assert len(here.song.pins) == 2
