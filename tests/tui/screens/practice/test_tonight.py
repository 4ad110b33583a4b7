"""Tonight's plan: one spot after the other, each for its time."""

from dataclasses import replace

from tests.tui.screens.in_the_shed import opened
from tests.tui.showing import running, shown, stand_app


async def test_tonights_plan_leads_through_its_spots_and_back() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("2")
        assert screen.turns is not None
        count = len(screen.turns.evening.turns)
        assert f"turn 1 of {count}" in shown(app)[1]
        seen = []
        for _ in range(count):
            seen.append(screen.chosen)
            await pilot.press("n")
        assert len(set(map(id, seen))) == len(screen.turns.evening.spots)
        assert "through" in shown(app)[1]


async def test_t_leaves_tonights_plan_and_the_tries_stay() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("t", "right", "t")
        assert screen.turns is None
        assert len(screen.tries.tries) == 1


async def test_when_a_turns_time_is_over_the_next_verdict_goes_on() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("t")
        assert screen.turns is not None
        screen.turns = replace(screen.turns, began=screen.turns.began - 200)
        await pilot.press("right")
        assert screen.turns.turn == 1
