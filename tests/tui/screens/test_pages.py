"""What holds for all screens between songs: they fit, and no key breaks them."""

import random

import pytest

from tests.tui.showing import running, shown, stand_app
from tui.input.commands import SCREENS
from tui.input.keymap import Keymap


@pytest.mark.parametrize("screen", ["set", "chart", "keys", "help"])
@pytest.mark.parametrize("size", [(80, 24), (40, 10), (10, 3)])
async def test_every_page_fits_every_size(screen: str, size: tuple[int, int]) -> None:
    app = stand_app()
    async with running(app, size) as pilot:
        await pilot.press(Keymap().keys(f"stand.{screen}")[0], "down", "up")
        assert [len(row) for row in shown(app)] == [size[0]] * size[1]


@pytest.mark.parametrize("seed", [1, 2])
async def test_any_keys_in_any_order_leave_a_whole_picture(seed: int) -> None:
    dice = random.Random(seed)
    keys = sorted(
        {key for screen in SCREENS.values() for command in screen for key in Keymap().keys(command.id)}
        - {"q", "g", "i"}
    )
    app = stand_app()
    async with running(app, dice.choice([(80, 24), (120, 36), (40, 10)])) as pilot:
        for _ in range(100):
            await pilot.press(dice.choice(keys))
            assert {len(row) for row in shown(app)} == {app.size.width}


async def test_on_a_low_screen_the_chosen_key_and_the_chosen_line_of_sound_stay_in_sight() -> None:
    app = stand_app()
    async with running(app, (40, 10)) as pilot:
        await pilot.press("y", *["down"] * 11)
        assert any("> ★ D " in row for row in shown(app))
        await pilot.press("escape", "m", *["down"] * 3)
        assert any("test chord" in row for row in shown(app))
        assert sum("   " in row for row in shown(app)) > 4
